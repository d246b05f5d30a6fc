/** Who works on the day: under which hats, who came, who has left. */

import { newId } from "../../job/ids.ts";
import { longestText } from "../../job/kinds_read.ts";
import type { Person } from "../../job/operations.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { spaced } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

const WORK: readonly (readonly [string, string])[] = [
  ["valuer", "Valuer"],
  ["clerk", "Clerk"],
  ["door", "Door"],
  ["porter", "Porter"],
  ["cataloguer", "Cataloguer"],
  ["manager", "Manager"],
];

/** The same roles with one more, or one less, in the order of the list; what the list does not know stays. */
function toggled(roles: readonly string[], role: string): string[] {
  const next = roles.includes(role) ? roles.filter((value) => value !== role) : [...roles, role];
  const known = WORK.map(([key]) => key);
  return [...known.filter((key) => next.includes(key)), ...next.filter((value) => !known.includes(value))];
}

export function People({ day }: { day: DayRecord }) {
  const people = listed(day, "people/").map(({ value }) => value);
  const here = people.filter(({ left }) => !left);
  const gone = people.filter(({ left }) => left);
  return (
    <section>
      <h3>
        People <span class="count">{here.length}</span>
      </h3>
      {people.length ? null : <p class="none">Nobody yet.</p>}
      <ul class="rows">
        {[...here, ...gone].map((person) => (
          <li key={person.person_id}>
            <OnePerson person={person} day_id={day.record_id} />
          </li>
        ))}
      </ul>
      <AddPerson day_id={day.record_id} />
    </section>
  );
}

function OnePerson({ person, day_id }: { person: Person; day_id: string }) {
  const say = (more: Partial<Person>) =>
    attempt(() => keep("add_person", { day_id, person: { ...person, ...more } }));
  const change = (role: string) => {
    const roles = toggled(person.roles, role);
    if (roles.length) say({ roles });
  };
  return (
    <details class="person">
      <summary>
        <strong>{person.name}</strong> <small>{person.left ? "has left" : workWords(person.roles)}</small>
      </summary>
      <Work label={`What ${person.name} does`} roles={person.roles} change={change} />
      <p class="hint">At least one. What {person.name} has recorded stays under this name.</p>
      <button type="button" onClick={() => say({ left: !person.left })}>
        {person.left ? "Is back" : "Has left"}
      </button>
    </details>
  );
}

function workWords(roles: readonly string[]) {
  const words = new Map(WORK);
  return roles.map((role) => (words.get(role) ?? spaced(role)).toLowerCase()).join(", ") || "no work named";
}

type WorkOf = { label: string; roles: readonly string[]; change: (role: string) => unknown };

/** Several may be chosen: in a small house the valuer stands at the door as well. */
function Work({ label, roles, change }: WorkOf) {
  return (
    <fieldset class="chips">
      <legend>{label}</legend>
      {WORK.map(([key, words]) => (
        <button
          type="button"
          key={key}
          class="chip"
          aria-pressed={roles.includes(key)}
          onClick={() => change(key)}
        >
          {words}
        </button>
      ))}
    </fieldset>
  );
}

function AddPerson({ day_id }: { day_id: string }) {
  const { form, set, drop } = useHeld(`person ${day_id}`, { name: "", work: [] as string[] });
  // A form held by an earlier version had one word here.
  const work = Array.isArray(form.work) ? form.work : [form.work];
  const name = form.name.trim();
  const add = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      await keep("add_person", { day_id, person: { person_id: newId(), name, roles: work } });
      sayDone(`${name} is added.`);
      drop();
    });
  };
  return (
    <form class="add" onSubmit={add}>
      <div class="field">
        <label for={`name-${day_id}`}>Add a person</label>
        <input
          id={`name-${day_id}`}
          value={form.name}
          maxLength={longestText("add_person.person.name")}
          autocomplete="off"
          onInput={(event) => set("name")(event.currentTarget.value)}
        />
      </div>
      <Work label="Work" roles={work} change={(role) => set("work")(toggled(work, role))} />
      {name && !work.length && <p class="hint">Say what {name} does, one or several, then add.</p>}
      <button type="submit" disabled={!name || !work.length}>
        Add
      </button>
    </form>
  );
}
