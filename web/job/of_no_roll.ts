/**
 * Numbers on things of a day that no roll of that day has: labels of a roll that lies at a table from the day before
 * and did not go on, or of another office. They are in none of the rolls' sums, and are counted by themselves.
 */

import { serialOf } from "./tag.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "./types.ts";
import { listed } from "./values.ts";

/** Each once, the lowest first; also those that came off again, as a roll counts them. */
export function numbersOfNoRoll(
  day: DayRecord,
  items: readonly ItemRecord[],
  containers: readonly ContainerRecord[],
): string[] {
  const isOfDay = ({ day_id }: { day_id: string }) => day_id === day.record_id;
  const tied = items.filter(isOfDay).flatMap((item) => listed(item, "tags/").map(({ value }) => value.tag));
  const numbers = new Set([...tied, ...containers.filter(isOfDay).map(({ number }) => number)]);
  const runs = listed(day, "rolls/").map(({ value }) => [serialOf(value.first_tag), value.count] as const);
  const isOfRoll = (serial: number) =>
    runs.some(([first, count]) => serial >= first && serial < first + count);
  return [...numbers].filter((tag) => !isOfRoll(serialOf(tag))).sort((a, b) => serialOf(a) - serialOf(b));
}
