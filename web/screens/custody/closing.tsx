/** Closing the day: every difference by its name, and two people who have read them; or the day stays open. */

import { useState } from "preact/hooks";
import type { Found } from "../../job/closing.ts";
import { namedIn, type Reasons, withoutReason, withReason } from "../../job/closing_reasons.ts";
import { dateWords, dayFacts } from "../../job/day_facts.ts";
import { incidentsOf, isStanding } from "../../job/incidents.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { Below } from "../../parts/below.tsx";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { useDifferences } from "../../parts/differences.ts";
import { Frame } from "../../parts/frame.tsx";
import { OneIncident } from "../../parts/incidents.tsx";
import { printWhole } from "../../parts/print.ts";
import { useDay, useDevice, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { syncNow } from "../../sync/sync.ts";
import { Close, ClosedBy } from "./closing_close.tsx";
import { ClosedWith, Differences } from "./closing_differences.tsx";
import { OfficeKnows } from "./closing_office.tsx";
import { Raise, Raised } from "./closing_raised.tsx";
import { Sums } from "./closing_sums.tsx";

const NOTHING_SAID: { reasons: Reasons } = { reasons: {} };

export default function Closing() {
  const device = useDevice();
  const day = useDay();
  if (!day || !device)
    return (
      <Frame title="Closing the day" place="#/closing">
        <ChooseDayFirst day={day} on={device?.role === "manager" ? "Day" : "Today"} />
      </Frame>
    );
  return <ClosingOf key={day.record_id} day={day} device={device} />;
}

function ClosingOf({ day, device }: { day: DayRecord; device: ThisDevice }) {
  const day_id = day.record_id;
  const [news, setNews] = useState(0);
  useAskedAtNews(() => {
    setNews((count) => count + 1);
    return syncNow();
  });
  const known = useHeld(`reasons ${day_id}`, NOTHING_SAID);
  const [inHand, take] = useState("");
  const [visits, items] = [useRecords("visit", day_id) ?? [], useRecords("item", day_id) ?? []];
  const containers = useRecords("container", day_id) ?? [];
  const found = useDifferences(day_id);
  const closed = fieldValue(day, "closed");
  const { reasons } = known.form;
  const left = found ? withoutReason(found, reasons).length : 0;
  const open = left ? `Closing the day: ${left} to explain` : "Closing the day";
  const mayClose = device.role === "manager";
  const say = (words: readonly string[], reason: string) =>
    known.set("reasons")(withReason(known.form.reasons, words, reason));
  const print = found && (
    <button type="button" onClick={printWhole}>
      Print this page
    </button>
  );
  return (
    <Frame title={closed ? "The day is closed" : open} place="#/closing" wide={true} action={print}>
      <div class="closing">
        <div class="sums">
          <Incidents day={day} />
          <p class="lead">
            {dateWords(dayFacts(day).held_on)}, {dayFacts(day).place}. {countWords(visits.length, "visit")},{" "}
            {countWords(items.length, "item")}, {countWords(containers.length, "container")}.
          </p>
          {found ? (
            <>
              <ClosedBy day={day} found={found} />
              <Sums day_id={day_id} />
            </>
          ) : (
            <p>Reading …</p>
          )}
        </div>
        {found && closed && <ClosedWith named={namedIn(closed)} found={found} />}
        {found && !closed && (
          <Differences found={found} naming={{ reasons, inHand, take, say: mayClose ? say : null }} />
        )}
        {found && (
          <Below>
            <OfficeKnows day={day} news={news} />
            <div class="acts">
              <Raised day={day} />
              <Raise day_id={day_id} items={items} />
              <Close {...{ day, device, reasons }} named={named(found)} letGo={known.drop} />
            </div>
          </Below>
        )}
      </div>
    </Frame>
  );
}

const named = (found: readonly Found[]) => found.map(({ words }) => words);

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
