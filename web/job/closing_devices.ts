/** Off which device the code of a closing's second person was read; only the device that closes the day asks. */

import { closingCode } from "./closing_code.ts";
import type { RecordCopy } from "./types.ts";
import { onceEachState } from "./values.ts";

/** The first of these devices on which the person reads this code; "" if it is none of them. */
export function deviceOfCode(
  code: string,
  day_id: string,
  person_id: string,
  devices: Iterable<string>,
): string {
  for (const device_id of devices)
    if (closingCode(day_id, person_id, device_id) === code.trim()) return device_id;
  return "";
}

/** The devices on which something of these records was said: those that are known with no office in reach. */
export function devicesOf(records: readonly RecordCopy[]): Set<string> {
  return new Set(records.flatMap(heardOn));
}

const heardOn = onceEachState(({ fields }): readonly string[] => [
  ...new Set(Object.values(fields).map((field) => field?.device_id ?? "")),
]);

/** What the office heard of a device last: `holding` is what it had not sent by then; null if it never said. */
export type LastHeard = {
  name: string;
  last_seen_at: string | null;
  revoked_at: string | null;
  holding: number | null;
};

/** A device in reach asks the office every quarter of a minute: of a longer silence nobody knows what it hides. */
const IN_REACH_MS = 2 * 60_000;

/**
 * Devices by what can be said of them: those that hold something, those in reach that hold nothing back, those heard no
 * longer, which may have worked since, and those that never said. All by the office's clock: whoever asks it was heard
 * just now.
 */
export function byLastHeard<Device extends LastHeard>(devices: readonly Device[]) {
  const heard = (device: Device) => Date.parse(device.last_seen_at ?? "") || 0;
  const now = Math.max(0, ...devices.map(heard));
  const quiet = devices.filter(({ holding }) => holding === 0);
  const isInReach = (device: Device) => !device.revoked_at && now - heard(device) <= IN_REACH_MS;
  return {
    holding: devices.filter(({ holding }) => holding),
    inReach: quiet.filter(isInReach),
    silent: quiet.filter((device) => !isInReach(device)),
    neverSaid: devices.filter(({ holding }) => holding === null),
  };
}

/** What was last said on each device that these records tell of: when, and by whom; the one silent longest first. */
export function lastWork(records: readonly RecordCopy[]) {
  const last = new Map<string, { made_at: string; made_by: string }>();
  for (const { fields } of records)
    for (const field of Object.values(fields)) {
      if (!field?.device_id || field.made_at <= (last.get(field.device_id)?.made_at ?? "")) continue;
      last.set(field.device_id, { made_at: field.made_at, made_by: field.made_by });
    }
  return [...last]
    .map(([device_id, work]) => ({ device_id, ...work }))
    .sort((a, b) => (a.made_at < b.made_at ? -1 : 1));
}
