/**
 * Before the doors open: what is ready for the day and what is not. It warns, the manager decides, the day keeps it.
 */
import { useLayoutEffect, useState } from "preact/hooks";
import { newId } from "../../job/ids.ts";
import { readiness } from "../../job/preflight.ts";
import type { Ready } from "../../job/preflight_line.ts";
import type { OfficeReadiness } from "../../job/preflight_office.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { Counted } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { Mark } from "../../parts/mark.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDeviceChanges } from "../../parts/office_changes.ts";
import { clockOff } from "../../parts/this_device.ts";
import { useDay, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { get } from "../../sync/office.ts";

const LONGEST_LINE = 400;
const TITLE = "Before the doors open";

export default function Preflight() {
  const day = useDay();
  const days = useRecords("day");
  if (!day || !days)
    return (
      <Frame title={TITLE} back="#/day" place="#/day">
        <ChooseDayFirst day={day} on="Day" />
      </Frame>
    );
  return <OfDay day={day} days={days} />;
}

/** What the office says and how far its clock is off; null while it is not reached. */
type Heard = { office: OfficeReadiness; clock_off_ms: number | null } | null;

function OfDay({ day, days }: { day: DayRecord; days: DayRecord[] }) {
  const { form, set, drop } = useHeld(`preflight ${day.record_id}`, { items: 0, labels: -1, pads: "no" });
  const [heard, setHeard] = useState<Heard | undefined>(undefined);
  const ask = async () => {
    const [office, clock_off_ms] = await Promise.all([
      get<OfficeReadiness>("/preflight").catch(() => null), // no network: the page says so
      clockOff(),
    ]);
    setHeard(office && { office, clock_off_ms });
  };
  useLayoutEffect(() => void ask(), []); // before it is painted: the office answers meanwhile
  useDeviceChanges(ask);
  const expected = {
    items: form.items,
    labels: form.labels < 0 ? null : form.labels,
    pads: form.pads === "yes",
  };
  const lines = readiness({
    day,
    days,
    expected,
    office: heard?.office ?? null,
    secure: isSecureContext && location.protocol === "https:",
    clock_off_ms: heard?.clock_off_ms ?? null,
    now: Date.now(),
  });
  const wanting = lines.filter(({ ready }) => !ready);
  const openDoors = () =>
    attempt(async () => {
      await keep("record_preflight", {
        day_id: day.record_id,
        preflight_id: newId(),
        items_expected: expected.items,
        labels_printed: expected.labels,
        ready: wordsOf(lines.filter(({ ready }) => ready)),
        not_ready: wordsOf(wanting),
      });
      drop();
      sayDone("It is kept with the day. Open the doors.");
    });
  return (
    <Frame
      title={TITLE}
      back="#/day"
      place="#/day"
      action={
        <>
          <button type="button" onClick={ask}>
            Look again
          </button>
          <button
            type="button"
            class="main"
            disabled={!form.items || heard === undefined}
            onClick={openDoors}
          >
            {!form.items
              ? "Say how many things you expect"
              : wanting.length
                ? `Open with ${wanting.length} not ready`
                : "All is ready: open"}
          </button>
        </>
      }
    >
      <section>
        <div class="pair">
          <Counted
            label="Things expected today"
            value={form.items || null}
            save={set("items")}
            of={day.record_id}
          />
          <Counted
            label="Printed labels in hand"
            value={form.labels < 0 ? null : form.labels}
            save={set("labels")}
            of={day.record_id}
          />
        </div>
        <Choice
          label="Paper pads on each table?"
          options={[
            ["yes", "Yes"],
            ["no", "Not yet"],
          ]}
          value={form.pads}
          choose={set("pads")}
        />
      </section>
      <Lines title="Not ready" lines={wanting} none="Nothing: all is ready." />
      <Lines title="Ready" lines={lines.filter(({ ready }) => ready)} none="Nothing yet." />
      <KeptBefore day={day} />
    </Frame>
  );
}

function Lines({ title, lines, none }: { title: string; lines: Ready[]; none: string }) {
  return (
    <section>
      <h2>
        {title} <span class="count">{lines.length}</span>
      </h2>
      {lines.length ? (
        <ul class="check-lines">
          {lines.map(({ ready, words, todo, at }) => (
            <li key={words} class={ready ? "good" : "not-good"}>
              <Mark state={ready ? "good" : "not-good"} />
              <span>
                {words} {todo && (at ? <a href={at}>{todo}</a> : <strong>{todo}</strong>)}
              </span>
            </li>
          ))}
        </ul>
      ) : (
        <p class="none">{none}</p>
      )}
    </section>
  );
}

/** How it stood each time the manager opened the doors. */
function KeptBefore({ day }: { day: DayRecord }) {
  const kept = listed(day, "preflights/");
  if (!kept.length) return null;
  return (
    <section>
      <h2>Kept with the day</h2>
      {kept.map(({ id, value, set }) => (
        <details key={id}>
          <summary>
            {momentWords(set.made_at)}: {value.ready.length} ready, {value.not_ready.length} not,{" "}
            {value.items_expected} things expected
          </summary>
          <ul>
            {value.not_ready.map((words) => (
              <li key={words}>Not ready: {words}</li>
            ))}
            {value.ready.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      ))}
    </section>
  );
}

function wordsOf(lines: Ready[]) {
  return lines.map(({ words }) => words.slice(0, LONGEST_LINE));
}
