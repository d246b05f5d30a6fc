/**
 * Before the doors open: what is ready for the day and what is not. It warns, the manager decides, the day keeps it.
 */
import { useLayoutEffect, useState } from "preact/hooks";
import type { Families } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { type Expected, PADS_LIE, readiness } from "../../job/preflight.ts";
import type { Ready } from "../../job/preflight_line.ts";
import type { OfficeReadiness } from "../../job/preflight_office.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { Counted } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDeviceChanges } from "../../parts/office_changes.ts";
import { clockOff } from "../../parts/this_device.ts";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDay, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { get } from "../../sync/office.ts";
import { KeptBefore, Lines } from "./preflight_lines.tsx";

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
  const { form, set, drop } = useHeld(`preflight ${day.record_id}`, { items: 0, labels: -1, pads: "" });
  const opened = listed(day, "preflights/").at(-1);
  const isAsOpened = opened && !form.items && form.labels < 0 && !form.pads;
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
  const expected = expectedOf(form, opened?.value);
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
          {isAsOpened ? (
            <TieOn href="#/today">Kept, the doors may open: on to Today</TieOn>
          ) : (
            <button
              type="button"
              class="main"
              disabled={!expected.items || heard === undefined}
              onClick={openDoors}
            >
              {!expected.items
                ? "Say how many things you expect"
                : wanting.length
                  ? `Open with ${wanting.length} not ready`
                  : "All is ready: open"}
            </button>
          )}
        </>
      }
    >
      <section>
        <div class="pair">
          <Counted
            label="Things expected today"
            value={expected.items || null}
            save={set("items")}
            of={day.record_id}
          />
          <Counted
            label="Printed labels in hand"
            value={expected.labels}
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
          value={expected.pads ? "yes" : "no"}
          choose={set("pads")}
        />
      </section>
      <Lines title="Not ready" lines={wanting} none="Nothing: all is ready." />
      <Lines title="Ready" lines={lines.filter(({ ready }) => ready)} none="Nothing yet." />
      <KeptBefore day={day} />
    </Frame>
  );
}

type Form = { items: number; labels: number; pads: string };

/** What is typed; what is not, as it was kept when the doors were opened last. */
function expectedOf({ items, labels, pads }: Form, opened?: Families["preflights"]): Expected {
  return {
    items: items || opened?.items_expected || 0,
    labels: labels < 0 ? (opened?.labels_printed ?? null) : labels,
    pads: pads ? pads === "yes" : Boolean(opened?.ready.includes(PADS_LIE)),
  };
}

function wordsOf(lines: Ready[]) {
  return lines.map(({ words }) => words.slice(0, LONGEST_LINE));
}
