/**
 * What is left of the rolls of a day, by all that this device knows; counted anew only after something of it has
 * changed.
 */
import { type RollCount, rollCounts } from "../job/custody.ts";
import { numbersOfNoRoll } from "../job/of_no_roll.ts";
import { derived } from "./derived.ts";
import { recordOf, records } from "./memory.ts";

export const rollsLeft = derived((day_id: string): RollCount[] => {
  const day = recordOf("day", day_id);
  return day ? rollCounts(day, records("item") ?? [], records("container") ?? []) : [];
});

/** Numbers on the day's things that are of none of its rolls. */
export const numbersOfNoRollOn = derived((day_id: string): string[] => {
  const day = recordOf("day", day_id);
  return day ? numbersOfNoRoll(day, records("item", day_id) ?? [], records("container", day_id) ?? []) : [];
});
