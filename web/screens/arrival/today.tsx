/** Today: who is being served, who waits, what is missing on what was already looked at. */

import { useState } from "preact/hooks";
import { dateWords, dayFacts, dayWords } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import { nextTicket } from "../../job/tickets.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { atStage, fieldValue, isPrivate, ownerWords } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { rememberDevice, type ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { InTurn } from "../../parts/below.tsx";
import { DayClosed } from "../../parts/day_closed.tsx";
import { Frame } from "../../parts/frame.tsx";
import { gapsOfVisits, type VisitGaps } from "../../parts/gaps.ts";
import { clockWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { onToday } from "../../parts/on_today.ts";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDay, useDevice, useOfficeNews, useRecords } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";
import { DoubledTickets, TicketsLeft } from "./tickets.tsx";
import { AfterClosing } from "./today_closed.tsx";
import { AtThisDevice } from "./today_device.tsx";
import { AtYourTable, useWhereItStopped } from "./today_table.tsx";

/** So many fill the first screenful of a large window: tiles of who waits, and rows of visits. */
const FIRST_WAITING = 24;
const FIRST_ROWS = 12;

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
  return <TodayOf key={day.record_id} day={day} device={device} />;
}

function ChooseDay({ days, role }: { days: DayRecord[]; role: string }) {
  return (
    <Frame title="Today" place="#/today">
      {days.length ? (
        <>
          <p class="lead">Which day is it?</p>
          <ul class="rows">
            {days.map((day) => (
              <li key={day.record_id}>
                <button type="button" class="row" onClick={() => rememberDevice({ day_id: day.record_id })}>
                  <strong>{dateWords(dayFacts(day).held_on)}</strong> {dayFacts(day).house},{" "}
                  {dayFacts(day).place}
                </button>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <>
          <p class="lead">No valuation day is on this device yet.</p>
          <p>
            {role === "manager" ? (
              <>
                <a href="#/day">Set up the day</a>.
              </>
            ) : (
              "The manager sets it up; stay in reach of the network until it appears here."
            )}
          </p>
        </>
      )}
    </Frame>
  );
}

function TodayOf({ day, device }: { day: DayRecord; device: ThisDevice }) {
  const visits = useRecords("visit", day.record_id);
  const [asking, setAsking] = useState(false);
  if (!visits)
    return (
      <Frame title="Today" place="#/today">
        <p>Reading …</p>
      </Frame>
    );
  const gaps = gapsOfVisits(day.record_id);
  const ForManagers = onToday.value;
  const atTables = atStage(visits, "at-table");
  const here = device.table_id
    ? atTables.filter((visit) => fieldValue(visit, "table_id") === device.table_id)
    : [];
  const open = async (allowed_by: string) => {
    const visit_id = newId();
    const { ticket } = nextTicket(day, visits, device);
    const brought = { bags: 1, kinds: "" };
    await keep("open_visit", { visit_id, day_id: day.record_id, ticket, ...brought, allowed_by });
    location.hash = `#/visit/${visit_id}`;
  };
  const isClosed = Boolean(fieldValue(day, "closed"));
  const begin = async () => (isClosed ? setAsking(true) : open(""));
  return (
    <Frame
      title="Today"
      about={dayFacts(day).tables.find(({ table_id }) => table_id === device.table_id)?.name}
      place="#/today"
      action={!asking && <Actions {...{ device, here, isClosed, begin }} />}
    >
      <DayClosed day={day} />
      {asking && <AfterClosing day={day} open={open} leave={() => setAsking(false)} />}
      {device.role === "manager" && <HearsAtOnce />}
      {device.role === "manager" && ForManagers && <ForManagers />}
      <p class="hint of-day">{dayWords(day)}</p>
      <AtThisDevice day={day} device={device} />
      <DoubledTickets visits={visits} />
      <TicketsLeft day={day} device={device} visits={visits} />
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

/** Whoever leads the day hears of an incident when the office does; the others within a quarter of a minute. */
function HearsAtOnce() {
  useOfficeNews(() => {
    syncNow();
  });
  return null;
}

type ActionsOf = {
  device: ThisDevice;
  here: VisitRecord[];
  isClosed: boolean;
  begin: () => Promise<unknown>;
};

/**
 * The porter finds things; everybody else opens visits as well, of a closed day seldom. A table goes on where it
 * stopped.
 */
function Actions({ device, here, isClosed, begin }: ActionsOf) {
  const stopped = useWhereItStopped(here.map(({ record_id }) => record_id));
  const find = <TieOn href="#/tag">Find by tag</TieOn>;
  if (device.role === "porter") return find;
  if (isClosed && !stopped)
    return (
      <>
        <NewVisit begin={begin} />
        {find}
      </>
    );
  return (
    <>
      <a class="button" href="#/tag">
        Find by tag
      </a>
      {stopped ? (
        <>
          <NewVisit begin={begin} />
          <TieOn {...stopped} />
        </>
      ) : (
        <TieOn press={begin}>New visit</TieOn>
      )}
    </>
  );
}

function NewVisit({ begin }: Pick<ActionsOf, "begin">) {
  return (
    <button type="button" onClick={() => attempt(begin)}>
      New visit
    </button>
  );
}

/** Who waits, as tiles to be called from: the ticket, since when, what they brought. */
function Waiting({ visits }: { visits: VisitRecord[] }) {
  return (
    <section>
      <h2>
        Waiting <span class="count">{visits.length}</span>
      </h2>
      {!visits.length && <p class="none">Nobody waits.</p>}
      <ul class="waiting">
        <InTurn
          of={visits}
          first={FIRST_WAITING}
          draw={(visit) => (
            <li key={visit.record_id}>
              <WaitingTile visit={visit} />
            </li>
          )}
        />
      </ul>
    </section>
  );
}

function WaitingTile({ visit }: { visit: VisitRecord }) {
  return (
    <a class="button" href={`#/visit/${visit.record_id}`}>
      <Ticket of={visit} />
      {ownerWords(visit) && <small class="name">{ownerWords(visit)}</small>}
      <small>
        {[`came ${clockWords(visit.opened_at)}`, !isPrivate(visit) && fieldValue(visit, "kinds")]
          .filter(Boolean)
          .join(", ")}
      </small>
    </a>
  );
}

/** As large as it can be and still stand on one line of its tile: one without a run of its own is longer. */
function Ticket({ of }: { of: VisitRecord }) {
  const ticket = fieldValue(of, "ticket") || "no ticket";
  return <strong class={ticket.length > 4 ? "figure long" : "figure"}>{ticket}</strong>;
}

type VisitsOf = { visits: VisitRecord[]; gaps: ReadonlyMap<string, VisitGaps> };

function Visits({ title, visits, gaps, none }: VisitsOf & { title: string; none: string }) {
  return (
    <section>
      <h2>
        {title} <span class="count">{visits.length}</span>
      </h2>
      {visits.length ? <VisitRows visits={visits} gaps={gaps} /> : <p class="none">{none}</p>}
    </section>
  );
}

/** Who has left is folded away. */
function Left({ visits, gaps }: VisitsOf) {
  const [open, setOpen] = useState(false);
  return (
    <section>
      <h2>
        Left <span class="count">{visits.length}</span>
      </h2>
      {visits.length > 0 && (
        <button type="button" class="quiet" aria-expanded={open} onClick={() => setOpen(!open)}>
          {open ? "Hide them" : "Show them"}
        </button>
      )}
      {open && <VisitRows visits={visits} gaps={gaps} />}
    </section>
  );
}

function VisitRows({ visits, gaps }: VisitsOf) {
  return (
    <ul class="rows">
      <InTurn
        of={visits}
        first={FIRST_ROWS}
        draw={(visit) => (
          <li key={visit.record_id}>
            <VisitRow visit={visit} {...(gaps.get(visit.record_id) ?? { items: 0, open: 0 })} />
          </li>
        )}
      />
    </ul>
  );
}

/** One visit: `items` on its list, `open` of them with something missing. */
function VisitRow({ visit, items, open }: VisitGaps & { visit: VisitRecord }) {
  return (
    <a class="row" href={`#/visit/${visit.record_id}`}>
      <strong class="ticket">{fieldValue(visit, "ticket") || "no ticket"}</strong>
      <span class="what">
        {ownerWords(visit) || fieldValue(visit, "kinds") || ""}
        <small>
          {countWords(items, "item")}, came {clockWords(visit.opened_at)}
        </small>
      </span>
      {open > 0 && <span class="left">{open} unfinished</span>}
      {open === 0 && items > 0 && <span class="left all">all done</span>}
    </a>
  );
}
