/** What the office still waits for: devices that ask to come back, and visits whose words are to be erased. */

import { momentWords } from "../../parts/moments.ts";
import type { Device } from "./devices_paired.tsx";

/** A device that asked to come back under an id that this office cannot know it by. */
export type Returning = Pick<Device, "device_id" | "name" | "role"> & { asked_at: string };

/** A visit that is not at the office: its owner's words are erased as soon as it comes. */
export type OwedErasure = { visit_id: string; made_at: string };

export function ToErase({ visits }: { visits: OwedErasure[] }) {
  return (
    <section>
      <h2>
        To be erased as it comes <span class="count">{visits.length}</span>
      </h2>
      <p>
        An owner's words were to be erased, and the visit is not at the office. They are erased as soon as a
        device or a copy brings it.
      </p>
      <ul class="rows">
        {visits.map(({ visit_id, made_at }) => (
          <li key={visit_id} class="row">
            <span class="what">
              Visit {visit_id} <small>asked for {momentWords(made_at)}</small>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Devices that say that they were here before, which an office that was begun anew has to be told. */
export function AskToComeBack(props: { devices: Returning[]; makeCode: (device: Returning) => void }) {
  return (
    <section>
      <h2>
        Ask to come back <span class="count">{props.devices.length}</span>
      </h2>
      <p class="hint">
        Each holds what it made under its number, and this office cannot see that it is the one. Look at the
        device in your hand: its pairing page shows its number.
      </p>
      <ul class="rows">
        {props.devices.map((device) => (
          <li key={device.device_id} class="row">
            <span class="what">
              {device.name}{" "}
              <small>
                number <code>{device.device_id}</code>, asked {momentWords(device.asked_at)}
              </small>
            </span>
            <span class="actions">
              <button type="button" class="quiet" onClick={() => props.makeCode(device)}>
                Make its code
              </button>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
