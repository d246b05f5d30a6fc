/** An owner who comes again, with a second bag: they go on with the visit that they have. */

import { useState } from "preact/hooks";
import { tablesApart } from "../../job/day_facts.ts";
import { ticketWords } from "../../job/tickets.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue, ownerWords } from "../../job/values.ts";
import { visitsFound } from "../../job/was_here.ts";
import { countWords } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { itemsOfVisit, recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { clockWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { setVisit, toTable } from "./visit_action.tsx";

type Again = { visit: VisitRecord; device: ThisDevice; bags: number };

/** They wait again, or sit down at the table of this device; what they brought this time is counted with the rest. */
async function comeAgain({ visit, device, bags }: Again) {
  const visit_id = visit.record_id;
  const before = fieldValue(visit, "bags") ?? 0;
  await setVisit(visit_id, "bags", before + bags);
  if (device.role === "table") await toTable(visit_id, device);
  else await setVisit(visit_id, "stage", "waiting");
  location.hash = `#/visit/${visit_id}`;
  sayDone(`Ticket ${ticketWords(visit)} goes on, with ${countWords(before + bags, "bag")}.`, async () => {
    await setVisit(visit_id, "bags", before);
    await setVisit(visit_id, "stage", "left");
  });
}

type WasHereOf = { day: DayRecord; device: ThisDevice; visits: readonly VisitRecord[] };

/** On the day's list, before a second visit is opened for them with everything typed anew. */
export function WasHere({ day, device, visits }: WasHereOf) {
  const [typed, setTyped] = useState<string | null>(null);
  if (device.role === "porter" || !visits.length) return null;
  if (typed === null)
    return (
      <p>
        <button type="button" class="quiet" onClick={() => setTyped("")}>
          Somebody who was here comes again
        </button>
      </p>
    );
  const found = visitsFound(visits, typed);
  return (
    <section class="bar">
      <Typed
        label="Their ticket, or their name"
        hint={
          device.role === "table"
            ? "Of owners at other tables this one knows the first name alone"
            : undefined
        }
        value={typed}
        save={async (text) => setTyped(text)}
        max={100}
      />
      {typed.trim() && !found.length && <p class="none">Nobody on this device answers to that.</p>}
      <ul class="rows">
        {found.map((visit) => (
          <li key={visit.record_id}>
            <Found visit={visit} day={day} device={device} />
          </li>
        ))}
      </ul>
      <button type="button" class="quiet" onClick={() => setTyped(null)}>
        Close this
      </button>
    </section>
  );
}

function Found({ visit, day, device }: Pick<Again, "visit" | "device"> & { day: DayRecord }) {
  const table = tablesApart(day).find(({ table_id }) => table_id === fieldValue(visit, "table_id"))?.words;
  const stage = fieldValue(visit, "stage");
  const isOver = Boolean(fieldValue(day, "closed")); // then a manager allows it, on the visit
  const where =
    stage === "left" ? "has left" : stage === "at-table" ? `is at ${table ?? "a table"}` : "waits";
  return (
    <>
      <a class="row" href={`#/visit/${visit.record_id}`}>
        <strong class="ticket">{ticketWords(visit)}</strong>
        <span class="what">
          {ownerWords(visit)}
          <small>
            came {clockWords(visit.opened_at)}, {where}
          </small>
        </span>
      </a>
      {stage === "left" && !isOver && (
        <button type="button" onClick={() => attempt(() => comeAgain({ visit, device, bags: 1 }))}>
          They are here again: go on with {ticketWords(visit)}
        </button>
      )}
    </>
  );
}

type SameOwnerOf = { visit_id: string; earlier: VisitRecord; device: ThisDevice };

/** As a name is typed that somebody has who was here and left: it is them, or another of the same name. */
export function SameOwner({ visit_id, earlier, device }: SameOwnerOf) {
  const visit = recordOf("visit", visit_id);
  const isBegun = Boolean(itemsOfVisit(visit_id)?.length || fieldValue(visit, "stage") === "left");
  if (!visit || isBegun || device.role === "porter") return null;
  const ticket = ticketWords(earlier);
  const goOn = async () => {
    const bags = fieldValue(visit, "bags") ?? 1;
    // Their words stay where they are; this visit keeps none of them.
    await keep("set_consignor", { visit_id, field: "name", value: "" });
    await setVisit(visit_id, "note", `Goes on as ticket ${ticket}`);
    await setVisit(visit_id, "stage", "left");
    await comeAgain({ visit: earlier, device, bags });
  };
  return (
    <div class="bar">
      <p>
        {ownerWords(earlier)} was here as ticket {ticket}, came {clockWords(earlier.opened_at)} and left. If
        it is the same owner, go on with that: all they said is on it.
      </p>
      <button type="button" onClick={() => attempt(goOn)}>
        It is them: go on with {ticket}
      </button>
    </div>
  );
}
