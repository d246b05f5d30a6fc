/** Today: who is being served, who waits, what is missing on what was already looked at. */

import { useState } from "preact/hooks";
import { tablesApart } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import { dayAfter, dayWordsApart, isDue } from "../../job/next_day.ts";
import { nextTicket } from "../../job/tickets.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { atStage, fieldValue } from "../../job/values.ts";
import { today } from "../../local/day_over.ts";
import type { ThisDevice } from "../../local/device.ts";
import { waiting } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { AfterClosing } from "../../parts/after_closing.tsx";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { DayClosed } from "../../parts/day_closed.tsx";
import { Frame } from "../../parts/frame.tsx";
import { gapsOfVisits } from "../../parts/gaps.ts";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { onToday } from "../../parts/on_today.ts";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDay, useDevice, useRecords } from "../../parts/use.ts";
import { sharedTickets } from "../../parts/with_words.ts";
import { syncNow } from "../../sync/sync.ts";
import { TicketsLeft } from "./tickets.tsx";
import { ChooseDay, GoesOn, WorkOn } from "./today_choose.tsx";
import { AtThisDevice } from "./today_device.tsx";
import { AtYourTable, useWhereItStopped } from "./today_table.tsx";
import { Left, Visits, Waiting } from "./today_visits.tsx";

export default function Today() {
  const device = useDevice();
  const days = useRecords("day");
  const day = useDay();
  if (!device || !days || day === undefined)
    return (
      <Frame title="Today" place="#/today">
        <p>Reading …</p>
      </Frame>
    );
  if (!day) return <ChooseDay days={days} role={device.role} />;
  const next = dayAfter(day, days, today.value);
  return <TodayOf key={day.record_id} day={day} device={device} next={next} />;
}

type TodayOfDay = { day: DayRecord; device: ThisDevice; next: DayRecord | undefined };

function TodayOf({ day, device, next }: TodayOfDay) {
  const visits = useRecords("visit", day.record_id);
  const [asking, setAsking] = useState(false);
  const open = async (allowed_by: string) => {
    const visit_id = newId();
    const { ticket } = nextTicket(day, visits ?? [], device, waiting.peek());
    const brought = { bags: 1, kinds: "" };
    await keep("open_visit", { visit_id, day_id: day.record_id, ticket, ...brought, allowed_by });
    location.hash = `#/visit/${visit_id}`;
  };
  if (!visits)
    return (
      <Frame title="Today" place="#/today">
        <p>Reading …</p>
      </Frame>
    );
  const gaps = gapsOfVisits(day.record_id);
  const [ForManagers, shared] = [onToday.value, sharedTickets.value];
  const atTables = atStage(visits, "at-table");
  const here = device.table_id
    ? atTables.filter((visit) => fieldValue(visit, "table_id") === device.table_id)
    : [];
  const isClosed = Boolean(fieldValue(day, "closed"));
  const due = next && isDue(next, day, today.value) ? next : undefined;
  const begin = async () => (isClosed ? setAsking(true) : open(""));
  return (
    <Frame
      title="Today"
      about={tablesApart(day).find(({ table_id, gone }) => !gone && table_id === device.table_id)?.words}
      place="#/today"
      action={!asking && <Actions {...{ device, day, here, isClosed, begin, next: due }} />}
    >
      <DayClosed day={day} />
      {next && <GoesOn day={day} next={next} />}
      {asking && <AfterClosing day={day} what="visit" open={open} leave={() => setAsking(false)} />}
      {device.role === "door" && <HearsAtOnce />}
      {ForManagers && <ForManagers />}
      <p class="hint of-day">{dayWordsApart(day, useRecords("day") ?? [], momentWords)}</p>
      <AtThisDevice day={day} device={device} />
      {shared && <shared.DoubledTickets visits={visits} />}
      <TicketsLeft day={day} device={device} visits={visits} />
      {shared && <shared.WasHere {...{ day, device, visits }} />}
      {here.map((visit) => (
        <AtYourTable key={visit.record_id} visit={visit} />
      ))}
      <Waiting visits={atStage(visits, "waiting")} />
      <Visits
        title={here.length ? "At the other tables" : "At the tables"}
        visits={atTables.filter((visit) => !here.includes(visit))}
        gaps={gaps}
        none="Nobody is at a table."
      />
      <Left visits={atStage(visits, "left")} gaps={gaps} />
    </Frame>
  );
}

/**
 * A door hears that the day was closed when the office does, and whoever leads the day of an incident
 * (`screens/office/today_manager.tsx`); the others within a quarter of a minute.
 */
function HearsAtOnce() {
  useAskedAtNews(syncNow);
  return null;
}

type ActionsOf = {
  device: ThisDevice;
  day: DayRecord;
  here: VisitRecord[];
  isClosed: boolean;
  begin: () => Promise<unknown>;
  next: DayRecord | undefined;
};

const FIND = "Find by tag";
const NEW_VISIT = "New visit";
const ALL_THE_SAME = "New visit all the same";

/**
 * The porter finds things; everybody else opens visits as well, of a closed day seldom. A table goes on where it
 * stopped.
 */
function Actions({ device, day, here, isClosed, begin, next }: ActionsOf) {
  const stopped = useWhereItStopped(here.map(({ record_id }) => record_id));
  const find = <TieOn href="#/tag">{FIND}</TieOn>;
  const isPorter = device.role === "porter";
  if (next && !stopped)
    return (
      <>
        {isPorter ? (
          <a class="button" href="#/tag">
            {FIND}
          </a>
        ) : (
          <NewVisit begin={begin} words={isClosed ? ALL_THE_SAME : NEW_VISIT} />
        )}
        <WorkOn day={day} next={next} />
      </>
    );
  if (isPorter) return find;
  if (isClosed && !stopped)
    return (
      <>
        <NewVisit begin={begin} words={ALL_THE_SAME} />
        {find}
      </>
    );
  return (
    <>
      <a class="button" href="#/tag">
        {FIND}
      </a>
      {stopped ? (
        <>
          <NewVisit begin={begin} />
          <TieOn {...stopped} />
        </>
      ) : (
        <TieOn press={begin}>{NEW_VISIT}</TieOn>
      )}
    </>
  );
}

function NewVisit({ begin, words = NEW_VISIT }: Pick<ActionsOf, "begin"> & { words?: string }) {
  return (
    <button type="button" onClick={() => attempt(begin)}>
      {words}
    </button>
  );
}
