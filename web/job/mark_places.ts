/** Where marks can be looked for: not in what was not examined, nor in what nobody opened. */

import { isOfOtherKind, keysOf } from "./progress.ts";
import { isInSight } from "./sight.ts";
import type { Plan, RecordCopy } from "./types.ts";
import { findingsOn, zoneSaid } from "./values.ts";

/**
 * Whether a place of these zones can have been looked at: unless each of them was not examined, or shows only once a
 * test was made that was not, or is none of what is called so, and nobody spoke of it all the same.
 */
export function isInReach(plan: Plan, record: RecordCopy, of: readonly string[]): boolean {
  const zones = plan.zones.filter(({ zone }) => of.includes(zone));
  return (
    !zones.length ||
    zones.some((zone) =>
      keysOf(zone).some((key) => {
        const state = zoneSaid(record, key)?.state;
        if (findingsOn(record, key).length) return true;
        if (state) return state !== "not-examined";
        return !isOfOtherKind(record, zone) && isInSight(record, { ...zone, lights: [] }, "");
      }),
    )
  );
}
