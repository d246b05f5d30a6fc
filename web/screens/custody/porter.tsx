/** The porter: scan one thing after the other, to a place or into a container, with a large count and no network. */

import { useRef, useState } from "preact/hooks";
import { peopleHere } from "../../job/day_facts.ts";
import { photosOf } from "../../job/progress.ts";
import { parseTag, shown, tagInQr } from "../../job/tag.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "../../job/types.ts";
import type { ThisDevice } from "../../local/device.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt } from "../../parts/notices.tsx";
import { Scanner } from "../../parts/scanner.tsx";
import { sound } from "../../parts/sounds.ts";
import { Thumb } from "../../parts/thumb.tsx";
import { useDay, useDevice, useLatest, useRecords } from "../../parts/use.ts";
import { type Aim, AimFields, aimWords, whatIsMissing } from "./porter_aim.tsx";
import { TakersCount } from "./porter_load.tsx";
import { doAsAimed, type Scanned } from "./porter_scan.ts";

export default function Porter() {
  const device = useDevice();
  const day = useDay();
  const items = useRecords("item");
  const containers = useRecords("container");
  if (!day || !device || !items || !containers)
    return (
      <Frame title="Porter" place="#/porter">
        <p>{day === null ? "Choose the day on the Today screen first." : "Reading …"}</p>
      </Frame>
    );
  return <Counting device={device} day={day} items={items} containers={containers} />;
}

type Known = { device: ThisDevice; day: DayRecord; items: ItemRecord[]; containers: ContainerRecord[] };

function Counting({ device, day, items, containers }: Known) {
  const people = peopleHere(day);
  const me = people.find(({ person_id }) => person_id === device.person_id)?.name ?? "";
  const [aim, setAim] = useState<Aim>({
    work: "move",
    to: "holding",
    at: "",
    given: "",
    container: "",
    kind_of: "box",
  });
  const { counted, count, begin } = useCount({ day_id: day.record_id, items, containers, aim, me });
  const [scanning, setScanning] = useState(false);
  const change = (patch: Partial<Aim>) => {
    setAim((before) => ({ ...before, ...patch }));
    begin();
  };
  const missing = whatIsMissing(aim, me);
  const good = counted.filter((scanned) => scanned.good);
  const scan = scanning ? null : (
    <button type="button" class="main" disabled={Boolean(missing)} onClick={() => setScanning(true)}>
      {missing || "Scan"}
    </button>
  );
  return (
    <Frame title="Porter" place="#/porter" action={scan}>
      {scanning ? (
        <p class="lead">{aimWords(aim, containers)}</p>
      ) : (
        <AimFields
          aim={aim}
          change={change}
          setAim={setAim}
          people={people}
          me={me}
          containers={containers}
        />
      )}
      {scanning && <Scanner found={(text) => count(tagInQr(text))} close={() => setScanning(false)} />}
      <p class="big-tag" role="status">
        {good.length}
        <span class="unseen"> counted</span>
      </p>
      {!missing && <KeyedIn count={count} />}
      {aim.work === "move" && good.length > 0 && !scanning && (
        <TakersCount key={aim.to} day_id={day.record_id} aim={aim} me={me} counted={good} />
      )}
      <CountedRows counted={counted} />
    </Frame>
  );
}

type CountOf = Omit<Known, "device" | "day"> & { day_id: string; aim: Aim; me: string };

/** Count numbers one after the other: each waits for the one before, so that two quick scans are two rows. */
function useCount(of: CountOf) {
  const [counted, setCounted] = useState<Scanned[]>([]);
  const busy = useRef(Promise.resolve());
  const done = useRef(new Set<string>()); // what the screen shows may be a scan behind
  const latest = useLatest(of);
  const countNow = async (tag: string) => {
    const scanned = done.current.has(tag)
      ? { tag, words: "was counted already", good: false, thing: null }
      : await doAsAimed(tag, latest.current);
    sound(scanned.good);
    if (scanned.good) done.current.add(tag);
    setCounted((before) => [scanned, ...before]);
  };
  const count = (tag: string) => {
    busy.current = busy.current.then(() => countNow(tag));
    return busy.current;
  };
  const begin = () => {
    setCounted([]);
    done.current.clear();
  };
  return { counted, count, begin };
}

function KeyedIn({ count }: { count: (tag: string) => Promise<void> }) {
  const [typed, setTyped] = useState("");
  const key = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      await count(parseTag(typed));
      setTyped("");
    });
  };
  return (
    <form class="inline" onSubmit={key}>
      <div class="field">
        <label for="porter-tag">or key it in</label>
        <input
          id="porter-tag"
          class="code"
          value={typed}
          autocomplete="off"
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
      </div>
      <button type="submit" disabled={!typed.trim()}>
        Count it
      </button>
    </form>
  );
}

/** What was scanned, the last one first. */
function CountedRows({ counted }: { counted: Scanned[] }) {
  return (
    <ul class="rows">
      {counted.map(({ tag, words, good, thing }, index) => (
        <li key={counted.length - index} class={good ? "row" : "row is-wrong"}>
          {thing?.kind === "item" && (
            <Thumb sha256={photosOf(thing)[0]?.value.thumb_sha256} words="its first photo" />
          )}
          <span class="what">
            <strong>{shown(tag)}</strong> {words}
          </span>
          <span aria-hidden="true">{good ? "✓" : "!"}</span>
        </li>
      ))}
    </ul>
  );
}
