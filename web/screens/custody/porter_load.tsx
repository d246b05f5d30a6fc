/** Whoever takes the load counts by hand; where that differs from what was scanned, it is a difference with a name. */

import { useState } from "preact/hooks";
import { placeWords } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import { keep } from "../../local/outbox.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import type { Aim } from "./porter_aim.tsx";
import type { Scanned } from "./porter_scan.ts";

type ByHand = { crates: number | null; pieces: number | null };

/** `counted` are the things that were scanned and taken. */
export function TakersCount({
  day_id,
  aim,
  me,
  counted,
}: {
  day_id: string;
  aim: Aim;
  me: string;
  counted: Scanned[];
}) {
  const { form, set, drop } = useHeld<ByHand>(`load to ${aim.to}`, { crates: null, pieces: null });
  const [kept, setKept] = useState("");
  const { crates, pieces } = form;
  const record = () =>
    attempt(async () => {
      if (crates === null || pieces === null) return;
      const scanned_crates = counted.filter(({ thing }) => thing?.kind === "container").length;
      const scanned_pieces = counted.length - scanned_crates;
      const load = { crates, pieces, scanned_crates, scanned_pieces };
      await keep("count_load", {
        day_id,
        load_id: newId(),
        to_place: aim.to,
        at: aim.at,
        given_by: aim.given,
        taken_by: me,
        ...load,
      });
      const words = `${me} counted crates ${crates} and loose pieces ${pieces}; scanned were ${scanned_crates} and ${scanned_pieces}`;
      const agrees = crates === scanned_crates && pieces === scanned_pieces;
      if (!agrees) await raiseCount(day_id, aim, crates + pieces < counted.length, words);
      drop();
      setKept(
        agrees
          ? `Both counts agree: ${words}.`
          : `The counts differ, and the closing names it: ${words}. Search before the van leaves.`,
      );
    });
  if (kept)
    return (
      <p class="bar" role="status">
        {kept}
      </p>
    );
  const ready = crates !== null && pieces !== null;
  return (
    <section>
      <h2>Counted by hand</h2>
      <p class="hint">{me}, who takes it, counts what stands there, without looking at the list.</p>
      <div class="pair">
        <Counted label="Crates, boxes and bags" value={crates} save={set("crates")} />
        <Counted label="Loose pieces" value={pieces} save={set("pieces")} />
      </div>
      <button type="button" disabled={!ready} onClick={record}>
        {ready ? "Record the count" : "Count both first"}
      </button>
    </section>
  );
}

function raiseCount(day_id: string, aim: Aim, short: boolean, words: string) {
  return keep("raise_difference", {
    day_id,
    difference_id: newId(),
    difference: short ? "item-short" : "item-over",
    thing_id: null,
    words: `Load to ${placeWords(aim.to).toLowerCase()}${aim.at ? `, ${aim.at}` : ""}: ${words}`,
    owner_told: false,
    told: "",
  });
}
