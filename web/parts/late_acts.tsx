/** What hands did to a stopped thing before they had heard of that: named until somebody has looked where it is now. */

import type { ById } from "../job/custody.ts";
import { mayMake } from "../job/kinds_read.ts";
import { allLateActs, type LateAct, lateActs, lateWords } from "../job/late_acts.ts";
import type { DayRecord, ItemRecord } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { firstUpper } from "../job/words.ts";
import { record } from "../local/memory.ts";
import { keep } from "../local/outbox.ts";
import { Typed } from "./controls.tsx";
import { attempt, sayDone } from "./notices.tsx";
import { useDevice, useRecord, useRecords } from "./use.ts";
import { useHeld } from "./use_held.ts";

const THINGS: ById = {
  get: (id) => {
    const found = record(id);
    return found?.kind === "item" || found?.kind === "container" ? found : undefined;
  },
};

/** On the page of the stop: each with what somebody found who looked, or with the question. */
export function LateActs({ item }: { item: ItemRecord }) {
  const day = useRecord("day", item.day_id);
  const acts = allLateActs(item);
  if (!day || !acts.length) return null;
  return (
    <section>
      <h2>Handled by somebody who had not heard of it</h2>
      {acts.map((act) => (
        <OneAct key={act.id} {...{ act, item, day }} />
      ))}
    </section>
  );
}

type ActOf = { act: LateAct; item: ItemRecord; day: DayRecord };

function OneAct({ act, item, day }: ActOf) {
  const end = item.fields[`late-ends/${act.id}`];
  const words = fieldValue(item, `late-ends/${act.id}`)?.words;
  const by = fieldValue(day, `people/${end?.made_by ?? ""}`)?.name;
  return (
    <article class="finding">
      <p class="lead">{firstUpper(lateWords(item, act, day, THINGS))}.</p>
      {end ? (
        <p>
          Looked at{by ? ` by ${by}` : ""}: {words}
        </p>
      ) : (
        <Settling late_id={act.id} item_id={item.record_id} />
      )}
    </article>
  );
}

function Settling({ late_id, item_id }: { late_id: string; item_id: string }) {
  const role = useDevice()?.role;
  const { form, set, drop } = useHeld(`late act ${late_id}`, { words: "" });
  const settle = () =>
    attempt(async () => {
      await keep("settle_late_act", { item_id, late_id, words: form.words });
      drop();
      sayDone("It is settled, and stays on the record.");
    });
  if (!role || !mayMake(role, "settle_late_act"))
    return <p class="hint">A table or the manager settles it, once whoever decides has been told.</p>;
  return (
    <>
      <Typed
        of={late_id}
        label="Where it is now, and who was told"
        hint="From whoever has seen it; nobody touches it to find out"
        into="settle_late_act.words"
        value={form.words}
        save={set("words")}
      />
      <button type="button" disabled={!form.words.trim()} onClick={settle}>
        {form.words.trim() ? "Settle it" : "Say what was found first"}
      </button>
    </>
  );
}

/** On Today of whoever leads the day: each that nobody has looked at. */
export function LateActsOfDay({ day }: { day: DayRecord }) {
  const items = useRecords("item", day.record_id) ?? [];
  const late = items.flatMap((item) => lateActs(item).map((act) => ({ act, item })));
  if (!late.length) return null;
  return (
    <div class="bar caution-bar red" role="alert">
      {late.map(({ act, item }) => (
        <p key={act.id}>
          <strong>
            {fieldValue(item, "short_description") || "What has no name yet"}:{" "}
            {lateWords(item, act, day, THINGS)}.
          </strong>{" "}
          <a href={`#/item/${item.record_id}/stop`}>Look, and settle it</a>
        </p>
      ))}
    </div>
  );
}
