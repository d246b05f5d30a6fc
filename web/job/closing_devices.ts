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
