/** What is missing on an item, found once for each state of its record: a day has hundreds of them. */
import { type Gap, missing } from "../job/progress.ts";
import type { ItemRecord, Plan } from "../job/types.ts";
import { planOf } from "../local/memory.ts";

const known = new WeakMap<ItemRecord, { plan: Plan | null; gaps: Gap[] }>();

/** The gaps of an item by the plan that it was made with. */
export function gapsOf(item: ItemRecord): Gap[] {
  const plan = planOf(item);
  const before = known.get(item);
  if (before?.plan === plan) return before.gaps;
  const gaps = missing(plan, item);
  known.set(item, { plan, gaps });
  return gaps;
}
