/** A Stop that was pressed on a visit's screen is of its ticket by one key. */

import type { Incident } from "../../job/incidents.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { amend } from "../../local/outbox.ts";
import { attempt } from "../../parts/notices.tsx";
import { useRecord } from "../../parts/use.ts";

type OfThatTicketOf = { day: DayRecord; incident: Incident; visit_id: string };

/** Whose thing it is, only a person can say: it may lie beside what that owner brought. */
export function OfThatTicket({ day, incident: { id, value }, visit_id }: OfThatTicketOf) {
  const visit = useRecord("visit", visit_id);
  const ticket = fieldValue(visit, "ticket")?.trim();
  if (!ticket || value.ticket) return null;
  const tell = () => amend("record_incident", { day_id: day.record_id, incident_id: id, ticket });
  return (
    <p>
      <button type="button" onClick={() => attempt(tell)}>
        It is of ticket {ticket}
      </button>
    </p>
  );
}
