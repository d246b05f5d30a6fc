/**
 * The devices that the office knows, to give one of them something: it goes by the device, never by how a name is
 * spelt.
 */
import { useEffect, useState } from "preact/hooks";
import { get } from "../sync/office.ts";
import { Select } from "./choices.tsx";
import { momentWords } from "./moments.ts";
import { useDeviceChanges } from "./office_changes.ts";

export type PairedDevice = {
  device_id: string;
  name: string;
  role: string;
  paired_at: string;
  revoked_at: string | null;
};

/** Those that were not taken off; null while the office is not reached. */
export function usePairedDevices(): PairedDevice[] | null {
  const [found, setFound] = useState<PairedDevice[] | null>(null);
  const read = () =>
    get<{ devices: PairedDevice[] }>("/devices").then(
      ({ devices }) => setFound(devices.filter(({ revoked_at }) => !revoked_at)),
      () => setFound(null), // out of reach: what is given already can still be read
    );
  useEffect(() => void read(), []);
  useDeviceChanges(read);
  return found;
}

type Chosen = {
  label: string;
  /** Those that it can be given to, the likeliest first; one that has it already is listed whatever its role. */
  roles: readonly string[];
  devices: PairedDevice[] | null;
  chosen: string | null | undefined;
  empty?: string;
  choose: (device: PairedDevice | null) => unknown;
};

/** One of the office's devices; of several with one name, when each was paired tells them apart. */
export function DeviceChoice({ label, roles, devices, chosen, empty = "No device", choose }: Chosen) {
  if (!devices) return <p class="hint">The office says which devices there are; it is not reached now.</p>;
  const offered = devices
    .filter(({ role, device_id }) => roles.includes(role) || device_id === chosen)
    .sort((a, b) => roles.indexOf(a.role) - roles.indexOf(b.role));
  return (
    <Select
      label={label}
      empty={empty}
      options={offered.map((device) => [device.device_id, toldApart(device, offered)])}
      value={chosen}
      choose={(device_id) => choose(devices.find((device) => device.device_id === device_id) ?? null)}
    />
  );
}

/** What a device is called where another one has its name. */
export function toldApart(
  { device_id, name, paired_at }: PairedDevice,
  all: readonly PairedDevice[],
): string {
  const hasOther = all.some((device) => device.name === name && device.device_id !== device_id);
  return hasOther ? `${name}, paired ${momentWords(paired_at)}` : name;
}
