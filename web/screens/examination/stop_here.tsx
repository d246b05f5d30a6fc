/**
 * Stop where there is no item: at the door, on a visit, with the porter. What to do first, found within a tap; a red
 * sign is an incident of the day as soon as it is pressed, and everything else of it is told later.
 */

import { useState } from "preact/hooks";
import { dateWords, dayFacts } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import { incidentsOf, isStanding, standingIncidents } from "../../job/incidents.ts";
import type { Caution, DayRecord } from "../../job/types.ts";
import { workOnDay } from "../../local/day.ts";
import { keep } from "../../local/outbox.ts";
import { FirstMinute, Rules } from "../../parts/caution_card.tsx";
import { Signs } from "../../parts/caution_signs.tsx";
import { Frame } from "../../parts/frame.tsx";
import { OneIncident } from "../../parts/incidents.tsx";
import { clockWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { useDay, useDevice, usePlanBook, useRecords } from "../../parts/use.ts";
import { OfThatTicket } from "./stop_of_ticket.tsx";

/** What is recorded as soon as it is pressed: what stops people. The rest is often only looked up. */
const AT_ONCE = "red";

/** `visit_id` is the visit whose screen stood here as Stop was pressed. */
export default function StopHere({ visit_id = "" }: { visit_id?: string }) {
  const book = usePlanBook();
  const day = useDay();
  const [chosen, setChosen] = useState<Caution | null>(null);
  const { record, recorded } = useRecording();
  if (!book?.cautions || day === undefined)
    return (
      <Frame title="Stop">
        <p class="lead">
          <strong>Hands off, people away, call the safety lead.</strong>
        </p>
        <p>The cautions are not on this device yet.</p>
      </Frame>
    );
  const pack = book.cautions;
  const choose = (caution: Caution) => {
    setChosen(caution);
    scrollTo(0, 0);
    if (day && caution.level === AT_ONCE && !standsHere(day, recorded[caution.hazard]))
      record(caution, day.record_id);
  };
  const action = (
    <>
      {chosen && (
        <button type="button" onClick={() => setChosen(null)}>
          Another sign
        </button>
      )}
      <button type="button" onClick={() => history.back()}>
        Close this page
      </button>
    </>
  );
  return (
    <Frame title="Stop" action={action}>
      {chosen ? (
        <>
          <FirstMinute caution={chosen} pack={pack} />
          <Recorded
            day={day}
            visit_id={visit_id}
            incident_id={recorded[chosen.hazard]}
            record={(day_id) => record(chosen, day_id)}
          />
          <Rules caution={chosen} />
        </>
      ) : (
        <>
          <section>
            <h2>Hands off. What was noticed?</h2>
            <Signs pack={pack} choose={choose} />
          </section>
          {day && <Standing day={day} />}
        </>
      )}
      <p class="hint">
        {pack.country}. {pack.notice}
      </p>
      <p>
        <a class="button" href="#/cards">
          Cards to print
        </a>
      </p>
    </Frame>
  );
}

/** Whether an incident that this page recorded stands, or is just being kept: who looks at its card again meets it. */
function standsHere(day: DayRecord, incident_id: string | undefined) {
  const incident = incidentsOf(day).find(({ id }) => id === incident_id);
  return Boolean(incident_id) && (!incident || isStanding(incident));
}

/** Records incidents: which was the last one of each sign that was pressed while the page is open. */
function useRecording() {
  const device = useDevice();
  const [recorded, setRecorded] = useState<Record<string, string>>({});
  const record = (caution: Caution, day_id: string) =>
    attempt(async () => {
      const incident_id = newId();
      setRecorded((before) => ({ ...before, [caution.hazard]: incident_id }));
      await keep("record_incident", {
        day_id,
        incident_id,
        hazard: caution.hazard,
        level: caution.level,
        sign: "",
        ticket: "",
        place: device?.name ?? "",
        seen_at: new Date(Date.now() + (device?.clock_offset_ms ?? 0)).toISOString(),
      });
    });
  return { record, recorded };
}

type RecordedOf = {
  day: DayRecord | null;
  visit_id: string;
  incident_id: string | undefined;
  record: (day_id: string) => unknown;
};

const STANDS = "It stands on the day until somebody settles it by name. Tell the safety lead.";

/** That it is on record, and what can be told of it; or the way to put it there. */
function Recorded({ day, visit_id, incident_id, record }: RecordedOf) {
  const incident = day && incident_id ? incidentsOf(day).find(({ id }) => id === incident_id) : undefined;
  if (day && incident)
    return (
      <section>
        <p class="bar" role="status">
          {isStanding(incident)
            ? `On record since ${clockWords(incident.value.seen_at)}. ${STANDS}`
            : "This one is settled. If there is another, put it on record, too."}
        </p>
        {isStanding(incident) && <OfThatTicket day={day} incident={incident} visit_id={visit_id} />}
        <OneIncident day={day} incident={incident} />
        <p>
          <button type="button" onClick={() => record(day.record_id)}>
            There is another one: put it on record, too
          </button>
        </p>
      </section>
    );
  if (!day) return <WhichDay record={record} />;
  return (
    <p class="bar">
      Nothing is on record yet. If an item's record is there, press Stop on it; else{" "}
      <button type="button" onClick={() => record(day.record_id)}>
        Put it on the day's record
      </button>
    </p>
  );
}

/** A device that nobody has told which day it is cannot know where an incident belongs. */
function WhichDay({ record }: { record: (day_id: string) => unknown }) {
  const days = useRecords("day") ?? [];
  const choose = async (day_id: string) => {
    await workOnDay(day_id);
    await record(day_id);
  };
  return (
    <section class="bar">
      <p>
        {days.length
          ? "Nothing is on record yet: this device was not told which day it is. When people are away, choose it."
          : "Nothing is on record: no day is on this device. Tell the safety lead time, place and what was seen."}
      </p>
      {days.map((day) => (
        <button type="button" key={day.record_id} onClick={() => attempt(() => choose(day.record_id))}>
          {dateWords(dayFacts(day).held_on)}, {dayFacts(day).place}
        </button>
      ))}
    </section>
  );
}

/** What was pressed today and nobody has settled. */
function Standing({ day }: { day: DayRecord }) {
  const standing = standingIncidents(day);
  if (!standing.length) return null;
  return (
    <section>
      <h2>
        Stop was pressed <span class="count">{standing.length}</span>
      </h2>
      {standing.map((incident) => (
        <OneIncident key={incident.id} day={day} incident={incident} />
      ))}
    </section>
  );
}
