/** Which owners are at which table now: each stands somewhere, so that those at the tables come to their sum. */

import { tablesApart } from "./day_facts.ts";
import type { DayRecord, VisitRecord } from "./types.ts";
import { fieldValue } from "./values.ts";

export type Seat = { table_id: string; name: string; gone: boolean; visits: VisitRecord[] };

/**
 * The tables that there are, then those that were taken away while somebody was at them, then what is none: `visits`
 * are those at the tables, of which one may name no table, or one that nobody knows here.
 */
export function seatsOf(day: DayRecord, visits: readonly VisitRecord[]): Seat[] {
  const tables = tablesApart(day);
  const at = (visit: VisitRecord) => fieldValue(visit, "table_id");
  const seats = tables.map(({ table_id, words, gone }) => ({
    ...{ table_id, name: words, gone },
    visits: visits.filter((visit) => at(visit) === table_id),
  }));
  const left = visits.filter((visit) => !tables.some(({ table_id }) => table_id === at(visit)));
  const taken = seats.filter(({ gone, visits }) => gone && visits.length);
  const none = left.length ? [{ table_id: "", name: "No table", gone: false, visits: left }] : [];
  return [...seats.filter(({ gone }) => !gone), ...taken, ...none];
}
