/** The devices that the office knows, to give one of them something: it goes by the device, never by how a name is spelt. */
import { useEffect, useState } from "preact/hooks";
import { get } from "../sync/office.ts";
import { Select } from "./choices.tsx";

export type PairedDevice = { device_id: string; name: string; role: string; revoked_at: string | null };

/** Those that were not taken off; null while the office is not reached. */
export function usePairedDevices(): PairedDevice[] | null {
  const [found, setFound] = useState<PairedDevice[] | null>(null);
  useEffect(() => {
    get<{ devices: PairedDevice[] }>("/devices").then(
      ({ devices }) => setFound(devices.filter(({ revoked_at }) => !revoked_at)),
      () => setFound(null), // out of reach: what is given already can still be read
    );
  }, []);
  return found;
}

type Chosen = {
  label: string;
  devices: PairedDevice[] | null;
  chosen: string | null | undefined;
  empty?: string;
  choose: (device: PairedDevice | null) => unknown;
};

/** One of the office's devices. */
export function DeviceChoice({ label, devices, chosen, empty = "No device", choose }: Chosen) {
  if (!devices) return <p class="hint">The office says which devices there are; it is not reached now.</p>;
  return (
    <Select
      label={label}
      empty={empty}
      options={devices.map(({ device_id, name }) => [device_id, name])}
      value={chosen}
      choose={(device_id) => choose(devices.find((one) => one.device_id === device_id) ?? null)}
    />
  );
}
