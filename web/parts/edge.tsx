/** The edge of a thing: progress and condition in one strip, wherever a thing shows. */

import { type ZoneSaid, zonesOf } from "../job/edge.ts";
import type { ItemRecord } from "../job/types.ts";
import { planOf } from "../local/plan_book.ts";
import { edgePaths, HIGH, STRETCH } from "./edge_paths.ts";

/**
 * `inHand` is the place of the zone that is in hand. Whoever does not see it is told in words what is left beside it.
 */
export function Edge({ zones, inHand = -1 }: { zones: readonly ZoneSaid[]; inHand?: number }) {
  if (!zones.length) return null;
  const paths = edgePaths(zones, inHand);
  return (
    <svg
      class="edge"
      viewBox={`0 0 ${zones.length * STRETCH} ${HIGH}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      {paths.thread && <path d={paths.thread} />}
      {paths.skipped && <path class="skipped" d={paths.skipped} />}
      {paths.inHand && <path class="in-hand" d={paths.inHand} />}
      {paths.spoken && <path class="spoken" d={paths.spoken} />}
    </svg>
  );
}

/** The edge of an item by the plan that it was made with; nothing while its class is not chosen. */
export function EdgeOf({ item }: { item: ItemRecord }) {
  const plan = planOf(item);
  return plan ? <Edge zones={zonesOf(plan, item)} /> : null;
}
