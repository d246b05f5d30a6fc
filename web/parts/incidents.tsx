/** Incidents of the day where they are completed and settled: where Stop is, and at the closing. */

import { useState } from "preact/hooks";
import { peopleHere } from "../job/day_facts.ts";
import type { IncidentEnd, IncidentValue } from "../job/fields.ts";
import { endsOffered, endWords, type Incident, incidentWords } from "../job/incidents.ts";
import { mayMake } from "../job/kinds_read.ts";
import { goesHome } from "../job/stopped.ts";
import type { DayRecord } from "../job/types.ts";
import { amend, keep } from "../local/outbox.ts";
import { rowName } from "../local/plan_book.ts";
import { Choice } from "./choices.tsx";
import { Typed } from "./controls.tsx";
import { attempt, sayDone } from "./notices.tsx";
import { useDevice, usePlanBook } from "./use.ts";
import { useHeld } from "./use_held.ts";
import { saidOtherwise } from "./with_words.ts";

type IncidentOf = { day: DayRecord; incident: Incident };

/** One incident: what is known of it, what can still be told, and how it ended. */
export function OneIncident({ day, incident }: IncidentOf) {
  const device = useDevice();
  const { id, end, between } = incident;
  const Otherwise = saidOtherwise.value;
  return (
    <article class="finding">
      <h3>{incidentWords(incident, rowName(incident.value.hazard))}</h3>
      {Otherwise &&
        between.map((two) => <Otherwise.TwoSaid key={two.disagreement_id} day={day} between={two} />)}
      {end ? (
        !between.length && <p>{endWords(end)}</p>
      ) : (
        <Telling day_id={day.record_id} id={id} value={incident.value} />
      )}
      {!end && device && mayMake(device.role, "settle_incident") && (
        <Settling day={day} incident={incident} />
      )}
      {!end && device && !mayMake(device.role, "settle_incident") && (
        <p class="hint">A table, the desk or the manager settles it, by name; a wrong tap, too.</p>
      )}
    </article>
  );
}

type TellingOf = { day_id: string; id: string; value: IncidentValue };

/** Folded away: nobody types before people are away. */
function Telling({ day_id, id, value }: TellingOf) {
  const tell = (member: "ticket" | "place" | "sign") => (words: string) =>
    amend("record_incident", { day_id, incident_id: id, [member]: words });
  return (
    <details>
      <summary>When people are away: ticket, place, what was seen</summary>
      <div class="pair">
        <Typed
          of={id}
          label="Ticket, if there is one"
          into="record_incident.ticket"
          value={value.ticket}
          save={tell("ticket")}
        />
        <Typed of={id} label="Place" into="record_incident.place" value={value.place} save={tell("place")} />
      </div>
      <Typed
        of={id}
        label="What was seen"
        into="record_incident.sign"
        hint="What it looks like, not what it is"
        value={value.sign}
        save={tell("sign")}
        lines={2}
      />
    </details>
  );
}

type Ending = Omit<IncidentEnd, "ended"> & { ended: IncidentEnd["ended"] | null };
const BLANK: Ending = { ended: null, settled_by: "", present: "", words: "" };

const HOW = "How it ended";
const BY = "Settled by";

function Settling({ day, incident }: IncidentOf) {
  const [day_id, incident_id] = [day.record_id, incident.id];
  const pack = usePlanBook()?.cautions;
  const ends = endsOffered(pack ? goesHome(incident.value.hazard, pack) : false);
  const people = peopleHere(day).map(({ name }): [string, string] => [name, name]);
  const { form, set, drop, isOld } = useHeld<Ending>(`incident ${incident_id}`, BLANK);
  const [open, setOpen] = useState(isOld);
  const { ended } = form;
  const ready = ended && form.settled_by.trim();
  const settle = () =>
    attempt(async () => {
      if (ended) await keep("settle_incident", { day_id, incident_id, ...form, ended });
      drop();
      sayDone("It is settled, and stays on the day's record.");
    });
  if (!open)
    return (
      <button type="button" onClick={() => setOpen(true)}>
        {HOW}
      </button>
    );
  return (
    <>
      <Choice label={HOW} options={ends} value={ended} choose={set("ended")} />
      {people.length > 0 && (
        <Choice label={BY} options={people} value={form.settled_by} choose={set("settled_by")} />
      )}
      <div class="pair">
        {!people.length && (
          <Typed
            of={incident_id}
            label={BY}
            hint="Name of whoever says so"
            into="settle_incident.settled_by"
            value={form.settled_by}
            save={set("settled_by")}
          />
        )}
        <Typed
          of={incident_id}
          label="Who was there"
          into="settle_incident.present"
          value={form.present}
          save={set("present")}
        />
      </div>
      <Typed
        of={incident_id}
        label="What was done"
        into="settle_incident.words"
        value={form.words}
        save={set("words")}
        lines={2}
      />
      <p class="inline">
        <button type="button" class="main" disabled={!ready} onClick={settle}>
          {ready ? "Settle it" : "Say how it ended and who says so"}
        </button>
        <button type="button" class="quiet" onClick={() => setOpen(false)}>
          Not now
        </button>
      </p>
    </>
  );
}
