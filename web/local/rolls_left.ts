/**
 * What is left of the rolls of a day, by all that this device knows; counted anew only after something of it has
 * changed.
 */
import { type RollCount, rollCounts } from "../job/custody.ts";
import { derived } from "./derived.ts";
import { recordOf, records } from "./memory.ts";

export const rollsLeft = derived((day_id: string): RollCount[] => {
  const day = recordOf("day", day_id);
  return day ? rollCounts(day, records("item") ?? [], records("container") ?? []) : [];
});
