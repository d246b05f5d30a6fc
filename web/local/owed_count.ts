/**
 * A porter's count that is begun at this device and not recorded: what was scanned stands on record one by one, and
 * that it left or came together stands nowhere yet.
 */
import type { Place } from "../job/fields.ts";
import { enteredIn, namesEntered } from "./held.ts";
import { records } from "./memory.ts";

type Counted = { work: string; to: Place; at: string; of_load: string };
type Row = { done: unknown; of_day?: string };
type Begun = { aim?: Counted; scanned?: readonly Row[] };

/** What no load that left is chosen by. */
export const NO_LOAD = "none";

/** The load that an arrival is held against, if one was said. */
export function loadOf({ of_load }: Pick<Counted, "of_load">) {
  return of_load === NO_LOAD ? null : of_load || null;
}

/** Where a day's count is kept until it is recorded. */
export const countOf = (day_id: string) => COUNT + day_id;
const COUNT = "porter ";

/** Whether what was scanned is still to be counted by hand, and is no load before. */
export function isOwedOf(aim: Counted, scanned: readonly { done: unknown }[]): boolean {
  return (
    scanned.some(({ done }) => done) && aim.work === "move" && (aim.to === "van" || loadOf(aim) !== null)
  );
}

/** The count that is owed at the porter's place of a day, in words: "to van, trip 2: 1 scanned"; "" if none is. */
export function owedCount(day_id: string): string {
  const owed = owedAt(day_id);
  if (!owed) return "";
  const { to, at } = owed.aim;
  return `to ${[to, at].filter(Boolean).join(", ")}: ${owed.good.length} scanned`;
}

function owedAt(day_id: string) {
  const { aim, scanned = [] } = (enteredIn(countOf(day_id)) as Begun | undefined) ?? {};
  return aim && isOwedOf(aim, scanned) ? { aim, good: scanned.filter(({ done }) => done) } : null;
}

/** The days at whose porter's place a count is owed: as a rule the one that this device works on, or none. */
export function daysCounting(): string[] {
  return namesEntered(COUNT).flatMap((name) => {
    const day_id = name.slice(COUNT.length);
    return owedAt(day_id) ? [day_id] : [];
  });
}

/**
 * The days of which something is in a count that is owed: where it is counted, of what was scanned, of the load that it
 * came with. Whatever else is said of them, they stay until it is recorded: what was scanned and not recorded stands
 * nowhere else, and on another day nobody could say what is missing.
 */
export function daysOwed(): ReadonlySet<string> {
  const days = daysCounting().flatMap((day_id) => {
    const { aim, good = [] } = owedAt(day_id) ?? {};
    const left = records("day")?.filter(({ fields }) => aim && fields[`loads/${loadOf(aim)}`]) ?? [];
    return [day_id, ...good.map(({ of_day = "" }) => of_day), ...left.map(({ record_id }) => record_id)];
  });
  return new Set(days);
}
