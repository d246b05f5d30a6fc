/** Which tickets a manager gives a door next: behind those of the runs, and behind those that owners have. */
import { HIGHEST_TICKET, numbersOf, type TicketRun, usedUp } from "./tickets.ts";
import type { VisitRecord } from "./types.ts";

/**
 * So many tickets behind the last that was given out, as far as there are, of which nobody has one. One far behind
 * them, such as a slip of the hand, is passed by only once the runs come to it.
 */
export function nextRun(
  runs: readonly Pick<TicketRun, "last">[],
  visits: readonly VisitRecord[],
  count: number,
) {
  const changed = [...usedUp(visits)].flatMap((ticket) => Number(/^Q(\d+)$/.exec(ticket)?.[1] ?? Number.NaN));
  const given = [...numbersOf(visits, "Q"), ...changed.filter(Number.isFinite)];
  const many = Math.max(1, count);
  let first = 1 + Math.max(0, ...runs.map(({ last }) => last));
  for (;;) {
    const last = Math.min(HIGHEST_TICKET, first + many - 1);
    const taken = given.filter((number) => number >= first && number <= last);
    if (!taken.length) return { first, last };
    first = 1 + Math.max(...taken);
  }
}
