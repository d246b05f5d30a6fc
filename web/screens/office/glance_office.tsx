/** The devices with what only they hold, and the second places, as the office tells it at the moment. */

import { minutesSince } from "../../job/day_sums.ts";
import { countWords } from "../../job/words.ts";
import { type Copy, isInTrouble } from "../../parts/copy_trouble.ts";
import { Mark } from "../../parts/mark.tsx";
import { clockWords, momentWords } from "../../parts/moments.ts";
import { type HeardDevice, type OfficeAnswer, useOfficeKnows } from "../../parts/office_knows.ts";
import { Sign } from "../../parts/sign.tsx";

const NOT_HEARD = "The office is not reached now.";

export function OfficeNow({ day_id, now }: { day_id: string; now: number }) {
  const { answer, problem } = useOfficeKnows(day_id, NOT_HEARD, { again: now });
  return (
    <>
      <section class="card">
        <h2>
          <a href="#/devices">Devices</a>
        </h2>
        {answer ? <DeviceList answer={answer} now={now} /> : <p class="none">{problem || "Asking …"}</p>}
      </section>
      <section class="card">
        <h2>
          <a href="#/copies">Second places</a>
        </h2>
        {answer ? <CopyList copies={answer.copies} /> : <p class="none">{problem || "Asking …"}</p>}
      </section>
    </>
  );
}

function DeviceList({ answer, now }: { answer: OfficeAnswer; now: number }) {
  const paired = answer.devices.filter(({ revoked_at }) => !revoked_at);
  return (
    <table class="devices-now">
      <thead>
        <tr>
          <th>Device</th>
          <th>Only there</th>
          <th>Heard</th>
        </tr>
      </thead>
      <tbody>
        {paired.map((device) => (
          <tr key={device.device_id}>
            <td>
              <Sign of={device.holding === 0 ? "check" : "device"} /> {device.name}
            </td>
            <td>{device.holding ?? "not said"}</td>
            <td>{heardWords(device, now)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function heardWords({ last_seen_at }: HeardDevice, now: number) {
  if (!last_seen_at) return "never";
  // What is heard while this is drawn, as this very device is, is heard now.
  const minutes = minutesSince(last_seen_at, Math.max(now, Date.parse(last_seen_at)));
  if (minutes === null) return momentWords(last_seen_at);
  return minutes ? clockWords(last_seen_at) : "now";
}

function CopyList({ copies }: { copies: Copy[] }) {
  if (!copies.length) return <p class="none">None: what the office has is lost with its disk.</p>;
  return (
    <ul class="lines-of">
      {copies.map((copy) => (
        <li key={copy.folder}>
          <Mark state={isInTrouble(copy) ? "not-good" : copy.state === "current" ? "good" : "unknown"} />
          <span>
            <span class="address">{copy.folder}</span>{" "}
            <small>
              {copy.complete_at ? `whole ${momentWords(copy.complete_at)}` : "never whole yet"}
              {copy.lag.operations > 0 && `, ${countWords(copy.lag.operations, "record")} to come`}
              {copy.lag.photos > 0 && `, ${countWords(copy.lag.photos, "picture")} to come`}
            </small>
          </span>
        </li>
      ))}
    </ul>
  );
}
