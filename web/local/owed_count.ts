/**
 * A porter's count that is begun at this device and not recorded: what was scanned stands on record one by one, and
 * that it left or came together stands nowhere yet.
 */
import type { Place } from "../job/fields.ts";
import { enteredIn } from "./held.ts";

type Counted = { work: string; to: Place; at: string; of_load: string };
type Begun = { aim?: Counted; scanned?: readonly { done: unknown }[] };

/** What no load that left is chosen by. */
export const NO_LOAD = "none";

/** The load that an arrival is held against, if one was said. */
export function loadOf({ of_load }: Pick<Counted, "of_load">) {
  return of_load === NO_LOAD ? null : of_load || null;
}

/** Where a day's count is kept until it is recorded. */
export const countOf = (day_id: string) => `porter ${day_id}`;

/** Whether what was scanned is still to be counted by hand, and is no load before. */
export function isOwedOf(aim: Counted, scanned: readonly { done: unknown }[]): boolean {
  return (
    scanned.some(({ done }) => done) && aim.work === "move" && (aim.to === "van" || loadOf(aim) !== null)
  );
}

/** The count that is owed of a day, in words: "to van, trip 2: 1 scanned"; "" if none is. */
export function owedCount(day_id: string): string {
  const { aim, scanned = [] } = (enteredIn(countOf(day_id)) as Begun | undefined) ?? {};
  if (!aim || !isOwedOf(aim, scanned)) return "";
  const many = scanned.filter(({ done }) => done).length;
  return `to ${[aim.to, aim.at].filter(Boolean).join(", ")}: ${many} scanned`;
}
