/** What is written down of a visit at the door: what was brought, who they are, what they need. */

import type { SetConsignor, SetVisit } from "../../job/operations.ts";
import type { VisitRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { useRecords } from "../../parts/use.ts";

const ACTING_AS = [
  ["owner", "Owner"],
  ["executor", "Executor"],
  ["attorney", "Attorney"],
  ["spouse", "Spouse"],
  ["other", "Other"],
] as const;

function setterOf({ record_id: visit_id }: VisitRecord) {
  return (field: SetVisit["field"]) => (value: string | number) =>
    keep("set_visit", { visit_id, field, value });
}

export function Arrival({ visit }: { visit: VisitRecord }) {
  const set = setterOf(visit);
  return (
    <section>
      <h2>Arrival</h2>
      <div class="pair">
        <Typed
          label="Ticket"
          into="open_visit.ticket"
          value={fieldValue(visit, "ticket")}
          save={set("ticket")}
        />
        <Counted label="Bags" value={fieldValue(visit, "bags")} save={set("bags")} />
      </div>
      <Typed
        label="What they brought, in their words"
        value={fieldValue(visit, "kinds")}
        save={set("kinds")}
        lines={2}
      />
      <Typed
        label="Needs"
        into="set_visit.value"
        hint="A chair, help with carrying, a quiet place, an interpreter"
        value={fieldValue(visit, "needs")}
        save={set("needs")}
      />
    </section>
  );
}

type WordsOf = {
  visit: VisitRecord;
  field: SetConsignor["field"];
  label: string;
  hint?: string;
  lines?: number;
  type?: "tel" | "email";
};

/** One personal word: kept out of the log, and erased when it is asked for. */
function Words({ visit, field, type, ...more }: WordsOf) {
  const save = (value: string) => keep("set_consignor", { visit_id: visit.record_id, field, value });
  return (
    <Typed
      into="set_consignor.value"
      value={fieldValue(visit, `consignor/${field}`)}
      save={save}
      type={type}
      inputmode={type}
      {...more}
    />
  );
}

export function Owner({ visit }: { visit: VisitRecord }) {
  const acting_as = fieldValue(visit, "consignor/acting_as") as (typeof ACTING_AS)[number][0] | undefined;
  const actAs = (value: string) =>
    keep("set_consignor", { visit_id: visit.record_id, field: "acting_as", value });
  return (
    <section>
      <h2>Owner</h2>
      <Namesakes visit={visit} />
      <Words visit={visit} field="name" label="Name" />
      <Words visit={visit} field="address" label="Address" lines={2} />
      <div class="pair">
        <Words visit={visit} field="telephone" label="Telephone" type="tel" />
        <Words visit={visit} field="email" label="Email" type="email" />
      </div>
      <Words visit={visit} field="preferred_contact" label="How they like to be reached" />
      <Choice label="Acting as" options={ACTING_AS} value={acting_as} choose={actAs} />
      {acting_as && acting_as !== "owner" && <Words visit={visit} field="acting_for" label="Acting for" />}
      <Words
        visit={visit}
        field="identity_seen"
        label="Identity seen"
        hint="The kind of document only, never its number. What must be checked is a matter of local law."
      />
    </section>
  );
}

/** Two owners of one name are told apart by their tickets. */
function Namesakes({ visit }: { visit: VisitRecord }) {
  const visits = useRecords("visit", visit.day_id) ?? [];
  const nameOf = (other: VisitRecord) => (fieldValue(other, "consignor/name") ?? "").trim().toLowerCase();
  const name = nameOf(visit);
  const same = visits.filter((other) => other.record_id !== visit.record_id && nameOf(other) === name);
  if (!name || !same.length) return null;
  return (
    <p class="bar">
      {same.map((other) => fieldValue(other, "ticket")).join(", ")} {same.length === 1 ? "has" : "have"} an
      owner of the same name. Go by the ticket, never by the name.
    </p>
  );
}

export function Note({ visit }: { visit: VisitRecord }) {
  const set = setterOf(visit);
  return (
    <section>
      <h2>Note</h2>
      <Typed
        label="Note on this visit"
        into="set_visit.value"
        value={fieldValue(visit, "note")}
        save={set("note")}
        lines={3}
      />
    </section>
  );
}
