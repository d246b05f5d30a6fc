/** Tables where things of several days are listed together. */
import { dateWords, dayFacts, tablesOf } from "./day_facts.ts";
import type { DayRecord } from "./types.ts";

/** The tables of several days by their ids, each as its day calls it: with the date where another day has the name. */
export function tablesOfDays(days: readonly DayRecord[]): Map<string, string> {
  const each = days.flatMap((day) => tablesOf(day).map(({ table_id, name }) => ({ day, table_id, name })));
  return new Map(
    each.map(({ day, table_id, name }) => {
      const isShared = each.some((other) => other.name === name && other.table_id !== table_id);
      return [table_id, isShared ? `${name}, ${dateWords(dayFacts(day).held_on)}` : name];
    }),
  );
}
