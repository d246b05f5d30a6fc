/** What one press said of several zones together, for as long as it stands so. */

import { WHOLE } from "./families.ts";
import type { ZoneState } from "./fields.ts";
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
