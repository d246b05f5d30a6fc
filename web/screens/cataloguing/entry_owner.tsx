/**
 * Who owns the thing, and how to reach them: asked of the office when it is needed, which is noted there at a desk, and
 * shown for as long as it is so.
 */

import { useEffect, useRef, useState } from "preact/hooks";
import { unsettled } from "../../job/between.ts";
import type { Who } from "../../job/day_facts.ts";
import type { VisitRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { forgetTold, isCorrected, standsNow, tell, toldOf } from "../../local/told.ts";
import { attempt } from "../../parts/notices.tsx";
import { TwoValues } from "../../parts/two_values.tsx";
import { get } from "../../sync/office.ts";

const WORDS = [
  ["consignor/name", "Name"],
  ["consignor/address", "Address"],
  ["consignor/telephone", "Telephone"],
  ["consignor/email", "Email"],
  ["consignor/preferred_contact", "How they like to be reached"],
  ["consignor/acting_for", "Acting for"],
  ["needs", "Needs"],
  ["note", "Note on the visit"],
] as const;

export function Owner({ visit_id, who }: { visit_id: string; who: Who }) {
  const visit = toldOf(visit_id);
  const isHere = useRef(true);
  const read = async () => {
    const stood = standsNow(visit_id);
    const now = await get<VisitRecord>(`/records/${visit_id}`);
    if (isHere.current) tell(now, stood);
  };
  useEffect(() => {
    isHere.current = true;
    return () => {
      isHere.current = false;
      forgetTold(); // what another entry shows is asked for there
    };
  }, []);
  useEffect(() => {
    if (visit) return;
    if (isCorrected(visit_id)) read().catch(forgetTold);
    else forgetTold();
  }, [visit]);
  return (
    <section class={visit ? undefined : "on-screen"}>
      <h3>Its owner</h3>
      {visit ? (
        <Told visit={visit} who={who} />
      ) : (
        <>
          <button type="button" class="quiet" onClick={() => attempt(read)}>
            Show the owner's words
          </button>
          <p class="hint">The office notes which desk has read them, and when.</p>
        </>
      )}
    </section>
  );
}

function Told({ visit, who }: { visit: VisitRecord; who: Who }) {
  const [chosen, setChosen] = useState<readonly string[]>([]); // the office may not have heard of it yet
  const known = WORDS.flatMap(([name, words]) => {
    const value = fieldValue(visit, name);
    return value ? [[words, value] as const] : [];
  });
  const open = unsettled(visit).filter(({ disagreement_id }) => !chosen.includes(disagreement_id));
  return (
    <>
      {!known.length && <p class="none">Nothing is on record, or it was erased.</p>}
      <dl class="facts">
        {known.map(([words, value]) => (
          <div key={words}>
            <dt>{words}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {open.map((between) => (
        <TwoValues
          key={between.disagreement_id}
          between={between}
          record={visit}
          who={who}
          settled={() => setChosen([...chosen, between.disagreement_id])}
        />
      ))}
    </>
  );
}
