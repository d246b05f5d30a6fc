/** What a scanned number is that is of another day than what is counted, or of none that this device holds. */

import { thingName } from "../../job/custody.ts";
import { dateWords, dayFacts } from "../../job/day_facts.ts";
import type { ThingRecord } from "../../job/types.ts";
import { recordOf } from "../../local/memory.ts";
import { noteOf } from "../../local/numbers_gone.ts";
import type { Scan } from "./porter_scan.ts";

/** What a number is that is on nothing of the days which this device holds. */
export function whatElse(tag: string) {
  const before = noteOf(tag);
  if (!before) return "is on nothing this device knows. Set it aside and note a difference";
  const date = dateWords(before.held_on);
  return before.is === "on"
    ? `is on something of ${date}, and is not on its way. Set it aside: the manager’s device or the desk opens it`
    : `is of ${date}, and on nothing since. Set it aside and note a difference`;
}

/** Why what is of another day than what was scanned before does not count with it; "" if it may. */
export function whyNotOfCount(thing: ThingRecord, { aim, of_day, containers }: Scan) {
  const into = aim.work === "inside" && containers.find(({ record_id }) => record_id === aim.container);
  const of = into ? into.day_id : aim.work === "move" ? of_day : "";
  if (!of || of === thing.day_id) return "";
  const dateOf = (day_id: string) => {
    const day = recordOf("day", day_id);
    return day ? dateWords(dayFacts(day).held_on) : "another day";
  };
  return into
    ? `is of ${dateOf(thing.day_id)}, and ${thingName(into)} of ${dateOf(of)}: each day's things lie in their own`
    : `is of ${dateOf(thing.day_id)}, and this count of ${dateOf(of)}: finish that, then begin another`;
}
