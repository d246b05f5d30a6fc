/** Closing the day: every difference by its name, and two people who have read them; or the day stays open. */

import { useMemo, useState } from "preact/hooks";
import { changedSince } from "../../job/changed_since.ts";
import type { Found } from "../../job/closing_found.ts";
import { needsOwnReason } from "../../job/closing_kinds.ts";
import { namedIn, saidOn, sayings, signedFirst, withoutReason } from "../../job/closing_reasons.ts";
import { dayWords } from "../../job/day_facts.ts";
import { incidentsOf, isStanding } from "../../job/incidents.ts";
import { othersThan } from "../../job/others_here.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { STEPS_TO_SUMS } from "../../local/day_found.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keepAll } from "../../local/outbox.ts";
import { Below } from "../../parts/below.tsx";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { OF_A_ROUND, useAskedOfDay } from "../../parts/day_at_news.ts";
import { DaysBefore } from "../../parts/days_before.tsx";
import { useDifferences } from "../../parts/differences.ts";
import { Frame } from "../../parts/frame.tsx";
import { KeysOfPart } from "../../parts/in_dock.tsx";
import { OneIncident } from "../../parts/incidents.tsx";
import { printWhole } from "../../parts/print.ts";
import { useDay, useDevice, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { syncNow } from "../../sync/sync.ts";
import { Close } from "./closing_close.tsx";
import { ClosedBy } from "./closing_closed_by.tsx";
import { ClosedWith, Differences, type Naming, WORD_FOR_ALL } from "./closing_differences.tsx";
import { ForTheSecond } from "./closing_for_second.tsx";
import { OfficeKnows } from "./closing_office.tsx";
import { Raise, Raised } from "./closing_raised.tsx";
import { goToClose, idsBehind, NOT_CLOSING } from "./closing_signed.ts";
import { Sums } from "./closing_sums.tsx";
import { closingTurnedBack, useOfficeFinds } from "./closing_turned_back.ts";
import { WaitsForSecond } from "./closing_waits.tsx";

const CLOSED = "The day is closed";

export default function Closing() {
  const device = useDevice();
  const day = useDay();
  if (!day || !device)
    return (
      <Frame title="Closing" place="#/closing">
        <ChooseDayFirst day={day} on={device?.role === "manager" ? "Day" : "Today"} />
      </Frame>
    );
  return <ClosingOf key={day.record_id} day={day} device={device} />;
}

function ClosingOf({ day, device }: { day: DayRecord; device: ThisDevice }) {
  const day_id = day.record_id;
  useAskedOfDay(day_id, syncNow, OF_A_ROUND);
  const closing = useHeld(`close ${day_id}`, NOT_CLOSING);
  const [inHand, take] = useState("");
  const [visits, items] = [useRecords("visit", day_id) ?? [], useRecords("item", day_id) ?? []];
  const containers = useRecords("container", day_id) ?? [];
  const closed = fieldValue(day, "closed");
  const mayClose = device.role === "manager" && !closed;
  const turnedBack = mayClose ? closingTurnedBack(day_id) : undefined;
  const atOffice = useOfficeFinds(day_id, turnedBack !== undefined);
  const here = useDifferences(day_id, STEPS_TO_SUMS);
  const found = useMemo(() => here && withThoseOf(here, atOffice), [here, atOffice]);
  const changed = useMemo(
    () => (closed ? changedSince({ day, visits, items, containers }) : []),
    [closed, day, visits, items, containers],
  );
  const reasons = useMemo(() => saidOn(day), [day]);
  const signings = useMemo(() => (closed ? [] : signedFirst(day)), [closed, day]);
  const first = (mayClose && signings[0]) || null;
  const unsaid = found ? withoutReason(found, reasons) : [];
  const open = unsaid.length ? `Closing: ${unsaid.length} to explain` : "Closing";
  const others = first ? othersThan(day, first.by) : [];
  const atIt = others.find(({ person_id }) => person_id === device.person_id);
  const isAtOwn = atIt !== undefined && first?.device_id !== device.device_id;
  const second = isAtOwn ? atIt : others.find(({ person_id }) => person_id === closing.form.second);
  const said_by = first && !isAtOwn ? (second?.name ?? "") : "";
  const say = (of: readonly Found[], reason: string) =>
    keepAll("explain_differences", sayings(of, { reason, said_by, day_id, newId: idsBehind(day) }));
  const naming: Naming = { day_id, reasons, inHand, take, say: mayClose ? say : null };
  const lead = () => {
    if (first && !isAtOwn && !closing.form.code.text.trim()) return goToClose();
    const isForAll = !first && unsaid.length > 1 && !unsaid.some(needsOwnReason);
    const next = isForAll ? WORD_FOR_ALL : ((unsaid.find(needsOwnReason) ?? unsaid[0])?.key ?? "");
    take("");
    requestAnimationFrame(() => take(next)); // what is in hand and was scrolled away comes in sight again
  };
  const print = found && (
    <>
      <button type="button" onClick={printWhole}>
        Print this page
      </button>
      {mayClose && unsaid.length > 0 && (
        <button type="button" class="main" onClick={lead}>
          Next unsaid ({unsaid.length})
        </button>
      )}
      {mayClose && !unsaid.length && <KeysOfPart />}
    </>
  );
  return (
    <Frame title={closed ? CLOSED : open} place="#/closing" wide="wide" action={print}>
      <div class="closing">
        <div class="sums">
          <Incidents day={day} />
          <p class="print-only print-title">{closed ? CLOSED : open}</p>
          <p class="lead">
            {dayWords(day)}. {countWords(visits.length, "visit")}, {countWords(items.length, "item")},{" "}
            {countWords(containers.length, "container")}.
          </p>
          {found ? (
            <>
              <ClosedBy {...{ day, found, changed }} />
              <WaitsForSecond {...{ signings, isAtOwn }} />
              <Sums day_id={day_id} />
              {device.role === "manager" && <DaysBefore day_id={day_id} />}
            </>
          ) : (
            <p>Reading …</p>
          )}
        </div>
        {found && closed && <ClosedWith named={namedIn(day, closed)} {...{ day, found, changed }} />}
        {found && !closed && !first && <Differences found={found} naming={naming} />}
        {found && first && (
          <ForTheSecond {...{ day, found, first, naming, second, isAtOwn }} code={closing.form.code.text} />
        )}
        {found && (
          <Below>
            <OfficeKnows day={day} />
            <div class="acts">
              <Close
                {...{
                  day,
                  device,
                  found,
                  reasons,
                  unsaid,
                  first,
                  closing,
                  second,
                  isAtOwn,
                  turnedBack,
                  lead,
                }}
              />
              <Raised day={day} />
              <Raise day_id={day_id} items={items} />
            </div>
          </Below>
        )}
      </div>
    </Frame>
  );
}

/** What is found here, and what the office finds beside it that has not come to this device. */
function withThoseOf(here: readonly Found[], atOffice: readonly Found[]): Found[] {
  const keys = new Set(here.map(({ key }) => key));
  return [...here, ...atOffice.filter(({ key }) => !keys.has(key))];
}

/** Stop was pressed with no item: those that stand, then how the others ended. */
function Incidents({ day }: { day: DayRecord }) {
  const incidents = incidentsOf(day);
  if (!incidents.length) return null;
  return (
    <section>
      <h2>
        Incidents <span class="count">{incidents.filter(isStanding).length}</span>
      </h2>
      {incidents.map((incident) => (
        <OneIncident key={incident.id} day={day} incident={incident} />
      ))}
    </section>
  );
}
