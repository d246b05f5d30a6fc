/** Closing the day: every difference by its name, and two people who have read them; or the day stays open. */

import { useState } from "preact/hooks";
import { differencesOf, type Found } from "../../job/closing.ts";
import { type RollCount, rollCounts } from "../../job/custody.ts";
import { dayFacts } from "../../job/day_facts.ts";
import { incidentsOf, isStanding } from "../../job/incidents.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { derived } from "../../local/derived.ts";
import { recordOf, records } from "../../local/memory.ts";
import { planOf, rowName } from "../../local/plan_book.ts";
import { Below } from "../../parts/below.tsx";
import { Frame } from "../../parts/frame.tsx";
import { OneIncident } from "../../parts/incidents.tsx";
import { printWhole } from "../../parts/print.ts";
import { Sign } from "../../parts/sign.tsx";
import { useDay, useDevice, useOfficeNews, useRecords } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";
import { Close, ClosedBy } from "./closing_close.tsx";
import { Differences } from "./closing_differences.tsx";
import { OfficeKnows } from "./closing_office.tsx";
import { Raise, Raised } from "./closing_raised.tsx";

/** Made again only after something of the day has changed. */
const differencesOfDay = derived((day_id: string): Found[] => {
  const day = recordOf("day", day_id);
  return day ? differencesOf({ day, ...onDay(day_id), plan: planOf, rowName }) : [];
});
const rollsOfDay = derived((day_id: string): RollCount[] => {
  const day = recordOf("day", day_id);
  const { items, containers } = onDay(day_id);
  return day ? rollCounts(day, items, containers) : [];
});

function onDay(day_id: string) {
  return {
    visits: records("visit", day_id) ?? [],
    items: records("item", day_id) ?? [],
    containers: records("container", day_id) ?? [],
  };
}

export default function Closing() {
  const [news, setNews] = useState(0);
  useOfficeNews(() => {
    setNews((count) => count + 1);
    syncNow();
  });
  const device = useDevice();
  const day = useDay();
  const day_id = day?.record_id ?? "";
  const visits = useRecords("visit", day_id);
  const items = useRecords("item", day_id);
  const containers = useRecords("container", day_id);
  if (!day || !device || !visits || !items || !containers)
    return (
      <Frame title="Closing the day" place="#/closing">
        <p>{day === null ? "Choose the day first, on the Day screen." : "Reading …"}</p>
      </Frame>
    );
  const found = differencesOfDay(day_id);
  const named = found.map(({ words }) => words);
  const closed = fieldValue(day, "closed");
  const open = found.length ? `Closing the day: ${found.length} to name` : "Closing the day";
  const print = (
    <button type="button" onClick={printWhole}>
      Print this page
    </button>
  );
  return (
    <Frame title={closed ? "The day is closed" : open} place="#/closing" action={print}>
      <Incidents day={day} />
      <p class="lead">
        {dayFacts(day).held_on}, {dayFacts(day).place}. {visits.length} visits, {items.length} items,{" "}
        {containers.length} containers.
      </p>
      <ClosedBy day={day} named={named} />
      <Numbers rolls={rollsOfDay(day_id)} />
      <Differences found={found} />
      <Below>
        <OfficeKnows day_id={day.record_id} news={news} />
        <Raised day={day} />
        <Raise day_id={day_id} items={items} />
        <Close day={day} device={device} named={named} />
      </Below>
    </Frame>
  );
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

function Numbers({ rolls }: { rolls: RollCount[] }) {
  return (
    <section>
      <h2>Numbers</h2>
      {rolls.length ? (
        <ul>
          {rolls.map((roll) => (
            <li key={roll.roll_id}>
              <Sign of="agrees" /> {roll.given_to}: <strong>{roll.count}</strong> ={" "}
              <strong>{roll.used}</strong> used + <strong>{roll.spoiled}</strong> struck through +{" "}
              <strong>{roll.unused}</strong> unused
            </li>
          ))}
        </ul>
      ) : (
        <p class="none">No roll was given out.</p>
      )}
    </section>
  );
}
