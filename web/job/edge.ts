/** What was said of each zone of a thing, in the plan's order, as briefly as a strip can show it. */

import { keysOf } from "./progress.ts";
import type { Plan, RecordCopy } from "./types.ts";
import { listed, onceEachState, zoneSaid } from "./values.ts";

/** A figure is the worst severity found on the zone, 0 to 4. */
export type ZoneSaid = number | "clear" | "not-examined" | "untouched";

/**
 * A finding counts even while its zone was given no state, or another; one whose severity nobody gave yet is slight.
 * What was found before the class was changed stands behind the plan's zones, if the plan has no such zone: it is on
 * the thing.
 */
export function zonesOf(plan: Plan, record: RecordCopy): ZoneSaid[] {
  const worst = worstOf(record);
  const keys = plan.zones.flatMap(keysOf);
  const inPlan = keys.map((key) => {
    const state = zoneSaid(record, key)?.state ?? "untouched";
    return worst.get(key) ?? (state === "finding" ? SLIGHT : state);
  });
  return [...inPlan, ...[...worst].flatMap(([zone, severity]) => (keys.includes(zone) ? [] : severity))];
}

const SLIGHT = 1;

/** The worst severity on each zone that has a finding. */
const worstOf = onceEachState((record): ReadonlyMap<string, number> => {
  const worst = new Map<string, number>();
  for (const { value } of listed(record, "findings/"))
    if (!value.withdrawn)
      worst.set(value.zone, Math.max(worst.get(value.zone) ?? 0, value.severity ?? SLIGHT));
  return worst;
});
