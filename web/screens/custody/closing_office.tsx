/** What only the office can say: devices that still hold something, and photos without their records or the reverse. */

import { byLastHeard, devicesOf, lastWork } from "../../job/closing_devices.ts";
import { peopleHere } from "../../job/day_facts.ts";
import type { DayRecord } from "../../job/types.ts";
import { countWords, isOrAre } from "../../job/words.ts";
import { records } from "../../local/memory.ts";
import { CopyWords, FormerWords } from "../../parts/copies.tsx";
import type { Copy } from "../../parts/copy_trouble.ts";
import { momentWords } from "../../parts/moments.ts";
import { clockOffWords, type OfficeAnswer, useOfficeKnows } from "../../parts/office_knows.ts";
import { useDevice } from "../../parts/use.ts";
import { holding as heldHere } from "../../sync/status.ts";

const NOT_HEARD =
  "This device cannot hear the office, so nobody here knows which devices still hold something and which pictures " +
  "are missing. Come into the office's network before you close the day.";

/** Asked when the screen is opened, and again as something of the day was kept. */
export function OfficeKnows({ day }: { day: DayRecord }) {
  const day_id = day.record_id;
  const { answer, problem } = useOfficeKnows(day_id, NOT_HEARD, { atNews: true });
  return (
    <section class="knows">
      <h2>What only the office knows</h2>
      {problem && (
        <>
          <p class="none">{problem}</p>
          <KnownHere day={day} />
        </>
      )}
      {answer && problem && <p class="hint">What the office said before:</p>}
      {answer ? (
        <ul>
          <Holding devices={concerned(day, answer.devices)} />
          <li>
            {answer.awaited.length
              ? `${countWords(answer.awaited.length, "picture")} named in records and not here yet`
              : "Every picture that a record names is here."}
          </li>
          <Orphans pictures={answer.orphans} />
          <Seconds copies={answer.copies} />
          {answer.former
            .filter(({ erasures }) => erasures)
            .map((copy) => (
              <li key={`${copy.folder} ${copy.copy_id}`}>
                Earlier copy in <FormerWords copy={copy} />
              </li>
            ))}
          <LogEnd log={answer.log} />
        </ul>
      ) : (
        !problem && <p class="none">Asking …</p>
      )}
    </section>
  );
}

const recordsOf = (day: DayRecord) => [
  day,
  ...(["visit", "item", "container"] as const).flatMap((kind) => records(kind, day.record_id) ?? []),
];

/** The paired devices, and of those taken off whichever worked on the day or still held something. */
function concerned(day: DayRecord, devices: OfficeAnswer["devices"]) {
  const worked = devicesOf(recordsOf(day));
  return devices
    .filter(({ revoked_at, holding, device_id }) => !revoked_at || holding || worked.has(device_id))
    .map((device) => (device.revoked_at ? { ...device, name: `${device.name} (taken off)` } : device));
}

function Holding({ devices }: { devices: OfficeAnswer["devices"] }) {
  const { holding, inReach, silent, neverSaid } = byLastHeard(devices);
  return (
    <>
      {holding.map((device) => (
        <li key={device.device_id}>
          <strong>{device.name}</strong> still holds {device.holding}, last heard{" "}
          {device.last_seen_at ? momentWords(device.last_seen_at) : "never"}
        </li>
      ))}
      {silent.map((device) => (
        <li key={device.device_id}>
          <strong>{device.name}</strong> has not been heard since{" "}
          {device.last_seen_at ? momentWords(device.last_seen_at) : "it was paired"}. It held nothing back
          then; what it recorded since, nobody here knows.
        </li>
      ))}
      {neverSaid.map((device) => (
        <li key={device.device_id}>{device.name} has not said what it holds</li>
      ))}
      {devices
        .filter((device) => device.clock_off_s)
        .map((device) => (
          <li key={`${device.device_id}/clock`}>
            The clock of <strong>{device.name}</strong> was {clockOffWords(device.clock_off_s)} when it last
            sent: times on what it recorded may be wrong by as much
          </li>
        ))}
      {inReach.length > 0 && (
        <li>Heard just now, with nothing held back: {inReach.map(({ name }) => name).join(", ")}.</li>
      )}
    </>
  );
}

/** With no office in reach: what is on this device alone, and when each of the others was last heard through it. */
function KnownHere({ day }: { day: DayRecord }) {
  const device = useDevice();
  const name = (id: string) =>
    peopleHere(day).find(({ person_id }) => person_id === id)?.name || "nobody by name";
  return (
    <ul>
      <li>
        {heldHere()
          ? `This device holds ${heldHere()} that the office does not have.`
          : "This device holds nothing back."}
      </li>
      {lastWork(recordsOf(day))
        .filter(({ device_id }) => device_id !== device?.device_id)
        .map(({ device_id, made_at, made_by }) => (
          <li key={device_id}>
            The device on which {name(made_by)} worked: nothing later than {momentWords(made_at)} is known
            here.
          </li>
        ))}
    </ul>
  );
}

/** Every copy as it stands when the day is closed; without one that is said, too. */
function Seconds({ copies }: { copies: Copy[] }) {
  if (!copies.length)
    return <li>Nothing of this is kept in a second place: what the office has is lost with its disk.</li>;
  return (
    <>
      {copies.map((copy) => (
        <li key={copy.folder}>
          Copy in <CopyWords copy={copy} />
        </li>
      ))}
    </>
  );
}

/** What the paper keeps of the log: whoever cuts or rewrites it later cannot change the paper. */
function LogEnd({ log }: { log: OfficeAnswer["log"] }) {
  return (
    <li>
      For the paper: {countWords(log.office_seq, "entry")} {isOrAre(log.office_seq)} in the office's log, and
      the last one's check is{" "}
      <span class="address">
        {log.chain.slice(0, 8)}
        <span class="on-screen"> …; the paper has all of it</span>
        <span class="print-only">{log.chain.slice(8).replace(/.{8}/g, " $&")}</span>
      </span>
    </li>
  );
}

/** So many are named on a line; what is more than that is seen to in turns. */
const ORPHANS_SHOWN = 20;

function Orphans({ pictures }: { pictures: string[] }) {
  if (!pictures.length) return <li>Every picture belongs to a record.</li>;
  return (
    <li>
      {countWords(pictures.length, "picture")} {pictures.length === 1 ? "belongs" : "belong"} to no record:
      what was photographed may be missing on its item. They stay at the office.
      <span class="on-screen">
        {" "}
        Look at {pictures.length > ORPHANS_SHOWN ? `the first ${ORPHANS_SHOWN}` : "them"}:
        {pictures.slice(0, ORPHANS_SHOWN).map((sha256, at) => (
          <>
            {" "}
            <a key={sha256} href={`/photos/${sha256}`} target="_blank" rel="noreferrer">
              picture {at + 1}
            </a>
          </>
        ))}
      </span>
    </li>
  );
}
