/** Whoever takes the load counts by hand; where that differs from what was scanned, or from what left, it is named. */

import { useRef } from "preact/hooks";
import { toWords } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import { packedIn } from "../../job/packed.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { AskedOnce } from "../../parts/asked_once.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { arrivals } from "./arrivals.ts";
import { type Aim, loadOf } from "./porter_aim.tsx";

/** What whoever takes the load says of it: their own count, and who drives it. */
type ByHand = { crates: number | null; pieces: number | null; driver: string };

/** What came of a count: what differs, each in a line, and what else there is to say of it. */
export type Outcome = { differs: string[]; words: string };

/** `counted` are the numbers that were scanned and taken; `recorded` is told what came of it. */
type TakersCountOf = {
  day: DayRecord;
  items: ItemRecord[];
  containers: ContainerRecord[];
  aim: Aim;
  me: string;
  counted: string[];
  recorded: (outcome: Outcome) => void;
};

export function TakersCount({ day, items, containers, aim, me, counted, recorded }: TakersCountOf) {
  const { form, set, drop } = useHeld<ByHand>(`load to ${aim.to}`, {
    crates: null,
    pieces: null,
    driver: "",
  });
  const { crates, pieces, driver } = form;
  const isLeaving = aim.to === "van";
  const isUnderWay = useRef(false);
  const record = () =>
    attempt(async () => {
      if (crates === null || pieces === null || isUnderWay.current) return; // pressed twice, it is one load
      isUnderWay.current = true;
      await recordOnce(crates, pieces).finally(() => {
        isUnderWay.current = false;
      });
    });
  const recordOnce = async (crates: number, pieces: number) => {
    const scanned_crates = counted.filter((tag) => containers.some(({ number }) => number === tag)).length;
    const scanned_pieces = counted.length - scanned_crates;
    await keep("count_load", {
      day_id: day.record_id,
      load_id: newId(),
      to_place: aim.to,
      at: aim.at,
      given_by: aim.given,
      taken_by: me,
      ...{ crates, pieces, scanned_crates, scanned_pieces },
      numbers: counted,
      packed: isLeaving ? packedIn(counted, items, containers) : null,
      driver: isLeaving ? driver.trim() : "",
      of_load: loadOf(aim),
    });
    const byHand = `${countWords(crates, "crate")} and ${countWords(pieces, "loose piece")}`;
    const words = `${me} counted ${byHand}; scanned: ${scanned_crates} and ${scanned_pieces}`;
    const agrees = crates === scanned_crates && pieces === scanned_pieces;
    if (!agrees) await raiseCount(day.record_id, aim, words);
    drop();
    recorded(outcome(day.record_id, aim, agrees, words));
  };
  const ready = crates !== null && pieces !== null;
  return (
    <section>
      <h2>Counted by hand</h2>
      <p class="hint">{me}, who takes it, counts what stands there.</p>
      <div class="pair">
        <Counted label="Crates, boxes and bags" value={crates} save={set("crates")} />
        <Counted label="Loose pieces" value={pieces} save={set("pieces")} />
        {isLeaving && <Typed label="Who drives" value={driver} save={set("driver")} />}
      </div>
      {ready && isLeaving && !driver.trim() ? (
        <AskedOnce words="Record the count" asks="Nobody is named who drives it." act={record} />
      ) : (
        <button type="button" disabled={!ready} onClick={record}>
          {ready ? "Record the count" : "Count crates and pieces first"}
        </button>
      )}
    </section>
  );
}

/** What came of the last count: what differs stands first, and by itself. */
export function Recorded({ differs, words }: Outcome) {
  return (
    <div class={differs.length ? "bar wrong" : "bar"} role="status">
      {[...differs, words].filter(Boolean).map((line) => (
        <p key={line}>{line}</p>
      ))}
    </div>
  );
}

/** What the two counts say, and, of an arrival, what the load says that left. */
function outcome(day_id: string, aim: Aim, agrees: boolean, words: string): Outcome {
  const arrival = arrivals.value?.arrivalOf({ day_id, of_load: aim.of_load }) ?? { agrees: true, words: "" };
  const ofLoad = arrival.words && `Of the load, ${arrival.words}.`;
  const differs = [...(arrival.agrees ? [] : [ofLoad]), ...(agrees ? [] : [`The counts differ: ${words}.`])];
  if (differs.length) differs.push(`The closing names it. ${whereToSearch(aim)}`);
  const same = agrees ? `What was counted is what was scanned: ${words}.` : "";
  return { differs, words: [same, arrival.agrees ? ofLoad : ""].filter(Boolean).join(" ") };
}

/** Where what differs is looked for, while it can still be found: in the van only if it was in it. */
function whereToSearch(aim: Aim) {
  const { to } = aim;
  if (to === "van") return "Search before the van leaves.";
  return to === "store" || loadOf(aim)
    ? "Look through the van, too."
    : "Search here, and where it came from.";
}

function raiseCount(day_id: string, aim: Aim, words: string) {
  return keep("raise_difference", {
    day_id,
    difference_id: newId(),
    difference: "load-count",
    thing_id: null,
    words: `Load ${toWords(aim.to, aim.at)}: ${words}`,
    owner_told: false,
    told: "",
  });
}
