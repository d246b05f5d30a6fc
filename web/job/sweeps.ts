/** What one press said of several zones together, for as long as it stands so. */

import { WHOLE } from "./families.ts";
import type { ZoneState } from "./fields.ts";
import { type Step, shutIn } from "./progress.ts";
import { isInSight } from "./sight.ts";
import type { RecordCopy, Zone } from "./types.ts";
import { listed, TO_LOOK_AT } from "./values.ts";

/** Zones of one thing that were said to be so at one moment, on one device; `ids` are the operations that said it. */
export type Sweep = { zones: string[]; state: ZoneState; made_at: string; ids: ReadonlySet<string> };

/** The newest first. A zone of which something else was said since is none of it. */
export function sweepsOf(record: RecordCopy): Sweep[] {
  const found = new Map<string, Sweep & { ids: Set<string> }>();
  for (const { id, value, set } of listed(record, "zones/")) {
    const { made_at, device_id, operation_id } = set;
    if (value.state === "finding" || value.reason === TO_LOOK_AT) continue;
    const key = [made_at, device_id, value.state, value.reason].join();
    const sweep = found.get(key) ?? { zones: [], state: value, made_at, ids: new Set<string>() };
    sweep.zones.push(id);
    sweep.ids.add(operation_id);
    found.set(key, sweep);
  }
  const several = [...found.values()].filter(({ zones }) => zones.length > 1);
  return several.sort((a, b) => b.made_at.localeCompare(a.made_at));
}

/** Whether a thing can be without a zone: each has a whole, what it is made of, and that on which other zones lie. */
export function canLack(zone: Zone) {
  return (
    zone.zone !== WHOLE && !zone.inherent && (zone.optional || !zone.holds.length || zone.weight !== "key")
  );
}

/**
 * What is called clear with the rest in a light, and what is not, with why: it lies in what was not examined, or shows
 * in no such light, nor was it tried in the way that shows it. Without a light, all that some light shows is covered.
 */
export function coveredIn(steps: readonly Step[], record: RecordCopy, light: string) {
  const rest = steps.filter(({ state, findings }) => !state && !findings.length);
  const isUnlit = ({ zone }: Step) => !isInSight(record, zone, light || zone.lights?.[0] || "");
  const unlit = rest.filter(isUnlit);
  const shut = shutIn(steps);
  const dark = shutIn(steps, (step) => unlit.includes(step));
  const isShut = ({ zone }: Step) => shut.has(zone.zone);
  return {
    covered: rest.filter((step) => !isShut(step) && !unlit.includes(step) && !dark.has(step.zone.zone)),
    within: rest.filter(isShut).map((step) => ({ step, by: shut.get(step.zone.zone) ?? "" })),
    unlit: rest.filter((step) => !isShut(step) && (unlit.includes(step) || dark.has(step.zone.zone))),
  };
}
