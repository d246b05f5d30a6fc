/** Tickets that two owners hold, or may come to hold: said wherever one of them is seen. */

import { timeWords } from "../../job/incidents.ts";
import { nextTicket } from "../../job/tickets.ts";
import { doubledTickets, ofOthersRun, sharersOf } from "../../job/tickets_shared.ts";
import type { VisitRecord } from "../../job/types.ts";
import type { ThisDevice } from "../../local/device.ts";
import { recordOf, records, waiting } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useSelected } from "../../parts/use.ts";

/** Tickets that more than one owner holds, each with the way to both. */
export function DoubledTickets({ visits }: { visits: readonly VisitRecord[] }) {
  return [...doubledTickets(visits)].map(([ticket, sharing]) => (
    <p class="bar wrong" key={ticket}>
      {sharing.length} owners hold ticket {ticket}. Give one of them another, and call nobody by it until
      then:{" "}
      {sharing.map(({ record_id, opened_at }, index) => (
        <span key={record_id}>
          {index > 0 && ", "}
          <a href={`#/visit/${record_id}`}>
            {`open the ${ORDER[index] ?? "next"} one, who came ${timeWords(opened_at)}`}
          </a>
        </span>
      ))}
    </p>
  ));
}

const ORDER = ["first", "second", "third"];

/** On a visit whose ticket another owner holds as well: say so, and give this one the next ticket of this device. */
export function SharedTicket({ visit_id, device }: { visit_id: string; device: ThisDevice }) {
  const others = useSelected(() => sharersHere(visit_id), [visit_id]);
  const holder = useSelected(() => holderHere(visit_id), [visit_id]);
  if (!others.length && !holder) return null;
  const giveAnother = () =>
    attempt(async () => {
      const visit = recordOf("visit", visit_id);
      const day = visit && recordOf("day", visit.day_id);
      if (!visit || !day) return;
      const { ticket } = nextTicket(day, records("visit", visit.day_id) ?? [], device, waiting.peek());
      await keep("set_visit", { visit_id, field: "ticket", value: ticket });
      sayDone(`This visit has ticket ${ticket} now. Write it on the owner's slip.`);
    });
  return (
    <div class="bar wrong">
      <p>
        {others.length > 0 ? "Another owner holds this ticket too: " : ofRun(holder)}
        {others.map((record_id, index) => (
          <a key={record_id} href={`#/visit/${record_id}`}>
            {index ? `, the visit after that` : "open the other visit"}
          </a>
        ))}
        {others.length > 0 && ". What was signed keeps its number."}
      </p>
      {device.role !== "porter" && (
        <button type="button" onClick={giveAnother}>
          Give this owner another ticket
        </button>
      )}
    </div>
  );
}

/** The same in few words under the box in which it is typed, where the top of the page is out of sight. */
export function TicketTyped({ visit_id }: { visit_id: string }) {
  const isShared = useSelected(() => sharersHere(visit_id).length > 0, [visit_id]);
  const holder = useSelected(() => holderHere(visit_id), [visit_id]);
  const words = isShared ? "Another owner holds it too." : holder && ofRun(holder);
  return words ? <p class="is-wrong hint">{words}</p> : null;
}

function ofRun(holder: string) {
  return `It is of ${holder}’s run, where another owner may get it.`;
}

function holderHere(visit_id: string): string {
  const visit = recordOf("visit", visit_id);
  const day = visit && recordOf("day", visit.day_id);
  return day ? ofOthersRun(day, visit, records("visit", day.record_id) ?? []) : "";
}

function sharersHere(visit_id: string): string[] {
  const visit = recordOf("visit", visit_id);
  if (!visit) return [];
  return sharersOf(visit, records("visit", visit.day_id) ?? []).map(({ record_id }) => record_id);
}
