/**
 * The day at a glance, while it goes on: the road of owners and things as figures, the tables, what to look at first,
 * who waits, the devices, the copies. Everything leads to where it is named.
 */

import { useEffect, useState } from "preact/hooks";
import { isStopped } from "../../job/cautions.ts";
import { minutesSince } from "../../job/day_sums.ts";
import { takenAway } from "../../job/referred.ts";
import { doubledTickets } from "../../job/tickets_shared.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { atStage, fieldValue } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { countWords } from "../../job/words.ts";
import { placesOfDay } from "../../local/places_of_day.ts";
import { Below } from "../../parts/below.tsx";
import { DaysBefore } from "../../parts/days_before.tsx";
import { useDifferences } from "../../parts/differences.ts";
import { useRecords } from "../../parts/use.ts";
import { OfficeNow } from "./glance_office.tsx";
import { SoFar, ToLookAt, Waiting } from "./glance_people.tsx";
import { TablesNow } from "./glance_tables.tsx";

const MINUTE_MS = 60_000;

/** The time now, told anew each minute. */
function useMinute() {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), MINUTE_MS);
    return () => clearInterval(timer);
  }, []);
  return now;
}

export function DayGlance({ day }: { day: DayRecord }) {
  const day_id = day.record_id;
  const visits = useRecords("visit", day_id);
  const now = useMinute();
  if (!visits) return null;
  const waiting = atStage(visits, "waiting");
  return (
    <div class="glance">
      <Road day_id={day_id} visits={visits} now={now} />
      <TablesNow day={day} visits={atStage(visits, "at-table")} now={now} />
      <Below>
        <Panels day_id={day_id} waiting={waiting} now={now} />
      </Below>
    </div>
  );
}

function Panels({ day_id, waiting, now }: { day_id: string; waiting: VisitRecord[]; now: number }) {
  const found = useDifferences(day_id);
  return (
    <div class="panels">
      {found && <ToLookAt found={found} />}
      <DaysBefore day_id={day_id} />
      <Waiting visits={waiting} now={now} />
      {found && <SoFar found={found} />}
      <OfficeNow day_id={day_id} now={now} />
    </div>
  );
}

type RoadOf = { day_id: string; visits: VisitRecord[]; now: number };
const owners = (count: number) => (count === 1 ? "owner" : "owners");

type Stop = { words: string; count: number; more?: string; href: string; aside?: boolean };

/** From the door to the store, then what is off the road: each a figure at arm's length, with its second words. */
function Road({ day_id, visits, now }: RoadOf) {
  const items = useRecords("item", day_id) ?? [];
  const waiting = atStage(visits, "waiting");
  const longest = Math.max(0, ...waiting.map(({ opened_at }) => minutesSince(opened_at, now) ?? 0));
  const taken = items.filter((item) => takenAway(item) && !fieldValue(item, "merged")?.into_id).length;
  const stopped = items.filter((item) => isStopped(item) && !takenAway(item)).length;
  const takenHome = items.filter(
    (item) => isBackWithOwner(item) && !fieldValue(item, "merged")?.into_id,
  ).length;
  const doubled = doubledTickets(visits).size;
  const stops: Stop[] = [
    {
      words: "Waiting",
      count: waiting.length,
      more: longest ? `longest ${longest} min` : owners(waiting.length),
      href: "#/today",
    },
    ...(["at-table", "left"] as const).map((stage) => ({
      words: stage === "left" ? "Left the hall" : "At the tables",
      count: atStage(visits, stage).length,
      more: owners(atStage(visits, stage).length),
      href: "#/today",
    })),
    ...placesOfDay(day_id).map(({ words, items }) => ({
      words,
      count: items,
      more: items === 1 ? "thing" : "things",
      href: "#/places",
    })),
    {
      words: "Taken home",
      count: takenHome,
      more: takenHome === 1 ? "thing" : "things",
      href: "#/today",
      aside: true,
    },
  ];
  if (taken)
    stops.push({
      words: "Taken away",
      count: taken,
      more: "by an authority",
      href: "#/closing",
      aside: true,
    });
  if (stopped)
    stops.push({
      words: "Stopped",
      count: stopped,
      more: "nothing is done with it",
      href: "#/closing",
      aside: true,
    });
  if (doubled)
    stops.push({ words: "Tickets", count: doubled, more: "with two owners", href: "#/today", aside: true });
  return (
    <nav aria-label="Where owners and things are">
      <p class="hint">{countWords(items.length, "thing")} on record</p>
      <ol class="road">
        {stops.map(({ words, count, more, href, aside }) => (
          <li key={words} class={aside ? "aside" : ""}>
            <a href={href}>
              <span>{words}</span>
              <strong class="figure">{count}</strong>
              <small>{more}</small>
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}
