/** What is missing on an item, found once for each state of its record: a day has hundreds of them. */
import { isStopped } from "../job/cautions.ts";
import { type Gap, missing } from "../job/progress.ts";
import { takenAway } from "../job/referred.ts";
import type { ItemRecord, Plan } from "../job/types.ts";
import { groupedBy } from "../job/values.ts";
import { isBackWithOwner } from "../job/with_owner.ts";
import { derived } from "../local/derived.ts";
import { isLoaded, records } from "../local/memory.ts";
import { planOf } from "../local/plan_book.ts";
import { whenIdle } from "./idle.ts";

/** Where it is held that an item has more pieces than two, until it is said how many. */
export const piecesAsked = (item_id: string) => `pieces ${item_id}`;

const known = new WeakMap<ItemRecord, { plan: Plan | null; gaps: Gap[] }>();

/** The gaps of an item by the plan that it was made with. */
export function gapsOf(item: ItemRecord): Gap[] {
  const plan = planOf(item);
  const before = known.get(item);
  if (before?.plan === plan) return before.gaps;
  const gaps = isBackWithOwner(item) ? [] : missing(plan, item); // of what went home nothing is asked any more
  known.set(item, { plan, gaps });
  return gaps;
}

/** How many items a visit has, and on how many of them something is missing. */
export type VisitGaps = { items: number; open: number };

/** The same for each visit of a day that has items. */
export const gapsOfVisits = derived((day_id: string): ReadonlyMap<string, VisitGaps> => {
  const visits = groupedBy(records("item", day_id) ?? [], ({ visit_id }) => visit_id);
  const open = (items: ItemRecord[]) =>
    items.filter((item) => !takenAway(item) && (isStopped(item) || gapsOf(item).length > 0)).length;
  return new Map([...visits].map(([id, items]) => [id, { items: items.length, open: open(items) }]));
});

const AT_ONCE = 10;

/** Find what is missing on the items that are here before anybody asks, a few each time that nothing else is to do. */
export function findGapsAhead() {
  const left = (isLoaded.peek() && records("item")) || [];
  const next = (from: number) => {
    for (const item of left.slice(from, from + AT_ONCE)) gapsOf(item);
    if (from + AT_ONCE < left.length) whenIdle(() => next(from + AT_ONCE));
  };
  next(0);
}
