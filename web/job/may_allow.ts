/** Who may allow that something is taken in after the closing. */

import { othersHere } from "./others_here.ts";
import type { DayRecord } from "./types.ts";

const MANAGES: ReadonlySet<string> = new Set(["manager", "day lead"]);

/**
 * Whoever wears a manager's hat that day, or, where the list names no other, anybody else on it: they may have been put
 * in charge. Nobody allows what they do themselves.
 */
export function mayAllow(day: DayRecord, person_id: string) {
  const others = othersHere(day, person_id);
  const isManager = (hat: string) =>
    MANAGES.has(
      hat
        .trim()
        .toLowerCase()
        .replace(/[\s-]+/g, " "),
    );
  const managers = others.filter(({ roles }) => roles.some(isManager));
  return managers.length ? managers : others;
}
