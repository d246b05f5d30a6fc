/** The code that the second person of a closing reads out: whose device it is of, and what is lacking. */

import { useMemo } from "preact/hooks";
import { deviceOfCode, devicesOf } from "../../job/closing_devices.ts";
import type { DayRecord } from "../../job/types.ts";
import { records } from "../../local/memory.ts";
import { usePairedDevices } from "../../parts/paired_devices.tsx";

/** What the code tells: the device that it comes off, and what the key says until there is one. */
type Read = { second_device: string; lacking: string };

export const NOBODY_YET: Read = { second_device: "", lacking: "Two people close a day" };

type Reading = { code: string; day_id: string; own: string; others: Iterable<string> };

export function readCode(
  { person_id, name }: { person_id: string; name: string },
  { code, day_id, own, others }: Reading,
): Read {
  if (code.length < 4) return { second_device: "", lacking: `${name} gives their code` };
  const second_device = deviceOfCode(code, day_id, person_id, others);
  if (second_device) return { second_device, lacking: "" };
  return deviceOfCode(code, day_id, person_id, [own])
    ? { second_device, lacking: `This code is this device's own: ${name} reads theirs on another` }
    : { second_device, lacking: `This is not the code of ${name}` };
}

/** The devices beside this one: all that the office knows, else those whose words are here. */
export function useOtherDevices(day: DayRecord, own: string) {
  const paired = usePairedDevices();
  const day_id = day.record_id;
  const ids = useMemo(() => {
    const here = (["visit", "item", "container"] as const).flatMap((kind) => records(kind, day_id) ?? []);
    const known = new Set([
      ...devicesOf([day, ...here]),
      ...(paired ?? []).map((device) => device.device_id),
    ]);
    known.delete(own);
    known.delete("");
    return known;
  }, [day, paired, own]);
  return { ids, isWhole: paired !== null };
}
