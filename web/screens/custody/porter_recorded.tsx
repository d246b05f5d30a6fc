/** What came of a count that was recorded, and where what differs is looked for. */

import { signal } from "@preact/signals-core";
import { thingName } from "../../job/custody.ts";
import type { ThingRecord } from "../../job/types.ts";
import { device, recordOf } from "../../local/memory.ts";
import { loadOf } from "../../local/owed_count.ts";
import { keepsPack } from "../../parts/packs.ts";
import { arrivals } from "./arrivals.ts";
import type { Aim } from "./porter_aim.tsx";

/** What came of a count: what differs, each in a line, and what else there is to say of it. */
export type Outcome = {
  differs: string[];
  words: string;
  /** The load that was made by it; "" or none where nothing leaves. */
  load_id?: string;
  /** What came to the store by it, and is compared with what is on record next: containers with what is in them. */
  came?: readonly ThingRecord[];
};

/**
 * What came of the last count, and of which day that was. It outlives the screen: of a day that was over the device
 * goes on to the next by itself once its last count is recorded, and nobody has read by then what came of it.
 */
const last = signal<{ of_day: string; as: string; of: Outcome } | null>(null);

/** A device that was given other work, or paired anew, says nothing of what it counted before. */
const asNow = () => `${device.value?.role} ${device.value?.paired_at}`;

/** The same, where its day has left without what it leads to; and to put another in its place, or none. */
export function useOutcome() {
  const known = last.value?.as === asNow() ? last.value : null;
  const isHere = known !== null && recordOf("day", known.of_day) !== null;
  return {
    recorded: known && (isHere ? known.of : { ...known.of, came: [], load_id: "" }),
    setRecorded: (of: Outcome | null, of_day = "") => {
      last.value = of && { of_day, as: asNow(), of };
    },
  };
}

/** What came of the last count: what differs stands first, and by itself; `again` counts the same load once more. */
export function Recorded({
  differs,
  words,
  load_id,
  came = [],
  again,
}: Outcome & { again: (() => void) | null }) {
  return (
    <div class={differs.length ? "bar wrong" : "bar"} role="status">
      {[...differs, words].filter(Boolean).map((line) => (
        <p key={line}>{line}</p>
      ))}
      {load_id && keepsPack("custody") && (
        <p>
          <a href={`#/load/${load_id}`}>See the load, and print its list</a>
        </p>
      )}
      {keepsPack("custody") &&
        came.map((thing) => (
          <p key={thing.record_id}>
            <a
              href={
                thing.kind === "item"
                  ? `#/item/${thing.record_id}/check-in`
                  : `#/container/${thing.record_id}`
              }
            >
              {`Check in ${thingName(thing)}`}
            </a>
          </p>
        ))}
      {differs.length > 0 && again && (
        <p>
          <button type="button" onClick={again}>
            Count this load again
          </button>
        </p>
      )}
    </div>
  );
}

/** What the two counts say, and, of an arrival, what the load says that left. */
export function outcome(day_id: string, aim: Aim, agrees: boolean, words: string): Outcome {
  const arrival = arrivals.value?.arrivalOf({ day_id, of_load: aim.of_load }) ?? { agrees: true, words: "" };
  const ofLoad = arrival.words && `Of the load, ${arrival.words}.`;
  const differs = [...(arrival.agrees ? [] : [ofLoad]), ...(agrees ? [] : [countsDiffer(words)])];
  if (differs.length) differs.push(`${NAMED} ${whereToSearch(aim)}`);
  const same = agrees ? `What was counted is what was scanned: ${words}.` : "";
  return { differs, words: [same, arrival.agrees ? ofLoad : ""].filter(Boolean).join(" ") };
}

const NAMED = "The closing names it.";

const countsDiffer = (words: string) => `The counts differ: ${words}.`;

/** The same of a load that left, read off the record. */
export function stillDiffers(words: string): Outcome {
  return { differs: [countsDiffer(words), `${NAMED} ${BEFORE_IT_LEAVES}`], words: "" };
}

const BEFORE_IT_LEAVES = "Search before the van leaves.";

/** Where what differs is looked for, while it can still be found: in the van only if it was in it. */
function whereToSearch(aim: Aim) {
  const { to } = aim;
  if (to === "van") return BEFORE_IT_LEAVES;
  return to === "store" || loadOf(aim)
    ? "Look through the van, too."
    : "Search here, and where it came from.";
}
