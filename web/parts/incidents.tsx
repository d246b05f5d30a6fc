/** Incidents of the day where they are completed and settled: where Stop is, and at the closing. */

import type { IncidentValue } from "../job/fields.ts";
import { endWords, type Incident, incidentWords } from "../job/incidents.ts";
import { mayMake } from "../job/kinds_read.ts";
import type { DayRecord } from "../job/types.ts";
import { amend } from "../local/outbox.ts";
import { rowName } from "../local/plan_book.ts";
import { Typed } from "./controls.tsx";
import { useDevice } from "./use.ts";
import { saidOtherwise, settlesIncident } from "./with_words.ts";

export type IncidentOf = { day: DayRecord; incident: Incident };

/** One incident: what is known of it, what can still be told, and how it ended. */
export function OneIncident({ day, incident }: IncidentOf) {
  const device = useDevice();
  const { id, end, between } = incident;
  const Otherwise = saidOtherwise.value;
  const Settling = settlesIncident.value;
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
      {!end && device && mayMake(device.role, "settle_incident") && Settling && (
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
