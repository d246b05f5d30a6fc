/** The devices that take part, each with how it found itself. */

import { failingOf, type KeptCheck } from "../../job/preflight_office.ts";
import { Mark } from "../../parts/mark.tsx";
import { clockWords, momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { post } from "../../sync/office.ts";
import { whyNoOffice } from "../../sync/out_of_reach.ts";
import { ROLES } from "./devices_new.tsx";

export type Device = {
  device_id: string;
  name: string;
  role: string;
  paired_at: string;
  last_seen_at: string | null;
  revoked_at: string | null;
  check: KeptCheck | null;
};

type PairedOf = {
  devices: Device[] | null;
  read: () => Promise<unknown>;
  pairAgain: (device: Device) => void;
};

export function PairedDevices({ devices, read, pairAgain }: PairedOf) {
  const revoke = (device: Device) =>
    attempt(async () => {
      await post(`/devices/${device.device_id}/revoke`, {});
      await read();
    });
  return (
    <section>
      <h2>
        Paired devices <span class="count">{devices?.length ?? ""}</span>
      </h2>
      {devices === null && <p class="none">The list needs the office; {whyNoOffice()}.</p>}
      <ul class="rows">
        {devices?.map((device) => (
          <li key={device.device_id} class="row">
            <span class="what">
              {device.name}{" "}
              <small>
                {ROLES.find(([key]) => key === device.role)?.[1]},{" "}
                {device.last_seen_at
                  ? `last seen ${momentWords(device.last_seen_at)}`
                  : "not heard of since it was paired"}
              </small>
              {!device.revoked_at && <Checked check={device.check} />}
            </span>
            {device.revoked_at && <span class="left">Taken off {clockWords(device.revoked_at)}</span>}
            <span class="actions">
              <button type="button" class="quiet" onClick={() => pairAgain(device)}>
                Pair again
              </button>
              {!device.revoked_at && (
                <button type="button" class="quiet" onClick={() => revoke(device)}>
                  Take off
                </button>
              )}
            </span>
          </li>
        ))}
      </ul>
      <p class="hint">On each device “On this device”, then “Check this device” says what it is fit for.</p>
      <p class="hint">
        A device that was taken off can neither read nor write. What it still holds is not lost: “Pair again”
        makes a code for that device alone, and it sends.
      </p>
    </section>
  );
}

/** How the device found itself, and when. */
function Checked({ check }: { check: KeptCheck | null }) {
  if (!check) return <small>not checked yet</small>;
  const failing = failingOf(check);
  return (
    <small class={failing.length ? "check-words wrong" : "check-words"}>
      <Mark state={failing.length ? "not-good" : "good"} />{" "}
      {failing.length ? failing.join(", ") : "passed its check"}, {momentWords(check.checked_at)}
    </small>
  );
}
