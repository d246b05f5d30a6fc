/**
 * The day is closed: a visit that is opened all the same, or an item that goes onto one, is taken in by a manager's
 * word, which stays on record with it.
 */

import { useState } from "preact/hooks";
import { peopleHere } from "../../job/day_facts.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import type { AfterClosingOf } from "../../parts/after_closing.tsx";
import { Select } from "../../parts/choices.tsx";
import { attempt } from "../../parts/notices.tsx";

const MANAGES: ReadonlySet<string> = new Set(["manager", "day-lead"]);

export function AsksManager({ day, what, open, leave }: AfterClosingOf) {
  const [allowed_by, setAllowedBy] = useState("");
  if (!fieldValue(day, "closed")) return null;
  return (
    <section class="card in-hand" role="alert">
      <h2>After the closing</h2>
      <p>Whatever is taken in now is in no closing that two people have read. Ask the manager first.</p>
      <Select
        label="Which manager allows it?"
        empty="Nobody yet"
        options={managersOf(day).map(({ name }) => [name, name])}
        value={allowed_by}
        choose={setAllowedBy}
      />
      <div class="pair">
        <button type="button" onClick={leave}>
          Open no {what}
        </button>
        <button type="button" disabled={!allowed_by} onClick={() => attempt(() => open(allowed_by))}>
          {allowed_by ? `Open the ${what}, ${allowed_by} allows it` : "Nobody has allowed it yet"}
        </button>
      </div>
    </section>
  );
}

/** Who wears a manager's hat that day; where the list names none, anybody on it may have been put in charge. */
function managersOf(day: DayRecord) {
  const people = peopleHere(day);
  const managers = people.filter(({ roles }) => roles.some((hat) => MANAGES.has(hat)));
  return managers.length ? managers : people;
}
