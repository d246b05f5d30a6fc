/** What a thing is asked for, in words that name only what it has: of a clock without weights, its pendulum. */
import { keysOf, neverHadIt } from "./progress.ts";
import type { Plan, RecordCopy, WhereNone } from "./types.ts";
import { findingsOn, zoneSaid } from "./values.ts";

/** A row of a plan, with the words, or the bases of a size, that it has where a thing never had all of some zones. */
export function worded<Row extends { where_none?: readonly WhereNone[] }>(
  plan: Plan,
  record: RecordCopy,
  row: Row,
): Row {
  const isNone = (name: string) =>
    (plan.kind !== undefined || plan.zones.some(({ zone }) => zone === name)) &&
    plan.zones
      .filter(({ zone }) => zone === name)
      .flatMap(keysOf)
      .every((key) => neverHadIt(zoneSaid(record, key)) && !findingsOn(record, key).length);
  const found = row.where_none?.find(({ none }) => none.every(isNone));
  if (!found) return row;
  const { words, how, bases } = found;
  return { ...row, ...(words ? { words } : {}), ...(how ? { how } : {}), ...(bases ? { bases } : {}) };
}
