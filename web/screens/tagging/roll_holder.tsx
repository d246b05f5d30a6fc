/** Who has a roll: a device, or none yet. It goes by the device, so that no spelling parts a table from its numbers. */
import { NO_DEVICE, type RollCount } from "../../job/custody.ts";
import { firstUpper } from "../../job/words.ts";
import { Select } from "../../parts/choices.tsx";
import { type PairedDevice, toldApart } from "../../parts/paired_devices.tsx";

export type Holder = Pick<RollCount, "given_to" | "for_device_id">;
type HolderOf = {
  label: string;
  holder: Holder;
  /** Null while the office is not reached: then only what needs no device can be chosen. */
  devices: PairedDevice[] | null;
  give: (holder: Holder) => unknown;
};

/** Those whose work it is to tie numbers; a door has none to tie. */
const TIE_TAGS: ReadonlySet<string> = new Set(["table", "porter", "desk", "manager"]);

export function HolderChoice({ label, holder, devices, give }: HolderOf) {
  const offered = (devices ?? []).filter(({ role }) => TIE_TAGS.has(role));
  const holders: (Holder & { words?: string })[] = [
    ...NO_DEVICE.map((given_to) => ({ given_to, for_device_id: null })),
    ...offered.map((device) => ({
      given_to: device.name,
      for_device_id: device.device_id,
      words: toldApart(device, offered),
    })),
  ];
  // Whoever has it now stays to be read, also a name of before that is no device, or a device that was taken off.
  if (!holders.some((row) => keyOf(row) === keyOf(holder))) holders.push(holder);
  return (
    <Select
      label={label}
      options={holders.map((row) => [keyOf(row), firstUpper(row.words ?? row.given_to)])}
      value={keyOf(holder)}
      choose={(key) => {
        const found = holders.find((row) => keyOf(row) === key);
        if (found) give({ given_to: found.given_to, for_device_id: found.for_device_id });
      }}
    />
  );
}

function keyOf({ given_to, for_device_id }: Holder): string {
  return for_device_id ?? `name ${given_to}`;
}
