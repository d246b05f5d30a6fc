/** Zones with findings that the plan of a thing does not have: what another class of it was examined for. */

import { keysOf, type Step } from "./progress.ts";
import type { Plan, RecordCopy, Zone } from "./types.ts";
import { findingsOn, listed, zoneSaid } from "./values.ts";

/** Of a zone that this plan does not have nothing more is known than its name. */
const UNKNOWN: Omit<Zone, "zone"> = {
  words: "",
  members: [],
  holds: [],
  weight: "supporting",
  photo: "finding",
  optional: false,
  usual: [],
};

/** Each as a step by itself, in the order in which something was found there; none is on the walk. */
export function zonesBeyond(plan: Plan, record: RecordCopy): Step[] {
  const known = new Set(plan.zones.flatMap((zone) => [zone.zone, ...keysOf(zone)]));
  const found = listed(record, "findings/").filter(({ value }) => !value.withdrawn && !known.has(value.zone));
  return [...new Set(found.map(({ value }) => value.zone))].map((key) => ({
    key,
    zone: { ...UNKNOWN, zone: key.split("/")[0] ?? key },
    member: key.split("/")[1] ?? null,
    state: zoneSaid(record, key),
    findings: findingsOn(record, key),
    photos: [],
  }));
}
