/** What is written down of a visit at the door: its ticket, what was brought, what its owner needs, and a note. */

import { useState } from "preact/hooks";
import type { SetVisit } from "../../job/operations.ts";
import { typedTicket } from "../../job/tickets.ts";
import { recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Counted, Typed } from "../../parts/controls.tsx";
import { useField, useSelected } from "../../parts/use.ts";
import { sharedTickets } from "../../parts/with_words.ts";
import { isKnownElsewhere } from "./visit_owner.tsx";

function setterOf(visit_id: string) {
  return (field: SetVisit["field"]) => (value: string | number) =>
    keep("set_visit", { visit_id, field, value });
}

export function Arrival({ visit_id }: { visit_id: string }) {
  const set = setterOf(visit_id);
  const shared = sharedTickets.value;
  const isUnread = useSelected(() => isUnreadHere(visit_id), [visit_id]);
  const [types, setTypes] = useState(false); // what somebody types into stays
  return (
    <section>
      <div class="pair">
        <Typed
          label="Ticket"
          into="open_visit.ticket"
          value={useField(visit_id, "ticket")}
          save={(ticket) => set("ticket")(typedTicket(ticket))}
          below={() => shared && <shared.TicketTyped visit_id={visit_id} />}
        />
        <Counted label="Bags" value={useField(visit_id, "bags")} save={set("bags")} />
      </div>
      {isUnread && !types ? (
        <p>
          What they brought and what they need was asked at the door.{" "}
          <small>It comes with the whole name.</small>{" "}
          <button type="button" class="chip" onClick={() => setTypes(true)}>
            Type it here
          </button>
        </p>
      ) : (
        <InTheirWords visit_id={visit_id} />
      )}
    </section>
  );
}

function InTheirWords({ visit_id }: { visit_id: string }) {
  const set = setterOf(visit_id);
  return (
    <>
      <Typed
        label="What they brought, in their words"
        value={useField(visit_id, "kinds")}
        save={set("kinds")}
        lines={2}
      />
      <Typed
        label="Needs"
        into="set_visit.value"
        hint="A chair, help with carrying, a quiet place, an interpreter"
        value={useField(visit_id, "needs")}
        save={set("needs")}
      />
    </>
  );
}

/** A table reads what the door wrote once it serves the visit: an empty box would say that nobody asked. */
function isUnreadHere(visit_id: string) {
  const fields = recordOf("visit", visit_id)?.fields;
  return isKnownElsewhere(visit_id) && !fields?.kinds && !fields?.needs;
}

export function Note({ visit_id }: { visit_id: string }) {
  const set = setterOf(visit_id);
  return (
    <section>
      <Typed
        label="Note on this visit"
        into="set_visit.value"
        value={useField(visit_id, "note")}
        save={set("note")}
        lines={3}
      />
    </section>
  );
}
