/** Who works on the day: under which hats, who came, who has left. */

import { ofOneName, personLeft } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import { longestText } from "../../job/kinds_read.ts";
import { asOneName } from "../../job/one_name.ts";
import type { Person } from "../../job/operations.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { rememberDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { SamePerson, toggled, UnderOneName, WORK, withRole, workWords } from "./day_one_name.tsx";

export function People({ day }: { day: DayRecord }) {
  const people = listed(day, "people/").map(({ value }) => value);
  const here = people.filter(({ left }) => !left);
  const gone = people.filter(({ left }) => left);
  const person_id = useDevice()?.person_id ?? "";
  const isNamed = !here.length || (person_id && !personLeft([day], person_id)); // else nothing of it would be kept
  return (
    <section>
      <h3>
        People <span class="count">{here.length}</span>
      </h3>
      {people.length ? null : (
        <p class="none">Nobody yet. Add yourself first: you are then at this device, and add the others.</p>
      )}
      {ofOneName(day).map((those) => (
        <UnderOneName key={those[0]?.person_id} people={those} day_id={day.record_id} />
      ))}
      {/* Above the list: whoever is added moves nothing under a thumb that goes on at once. */}
      {isNamed ? (
        <AddPerson people={people} day_id={day.record_id} />
      ) : (
        <p class="bar">Choose your name at the top first, then add the others.</p>
      )}
      <ul class="rows">
        {[...here, ...gone].map((person) => (
          <li key={person.person_id}>
            <OnePerson person={person} day_id={day.record_id} />
          </li>
        ))}
      </ul>
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

function AddPerson({ people, day_id }: { people: readonly Person[]; day_id: string }) {
  const { form, set, drop } = useHeld(`person ${day_id}`, { name: "", work: [] as string[] });
  // A form held by an earlier version had one word here.
  const work = Array.isArray(form.work) ? form.work : [form.work];
  const name = form.name.split(/\s+/).filter(Boolean).join(" ");
  const same = people.filter((person) => asOneName(person.name) === asOneName(name));
  const known = same.find(({ left }) => !left) ?? same[0];
  const add = (person: Person, done: string) =>
    attempt(async () => {
      await keep("add_person", { day_id, person });
      sayDone(done);
      drop();
      if (!people.length) await rememberDevice({ person_id: person.person_id });
    });
  // Once no name stands there, what work it was of is nobody's.
  const write = (text: string) => Promise.all([set("name")(text), text.trim() ? null : set("work")([])]);
  const addAnother = () => add({ person_id: newId(), name, roles: work }, `${name} is added.`);
  const submit = (event: Event) => {
    event.preventDefault();
    if (!known) addAnother();
  };
  return (
    <form class="add" onSubmit={submit}>
      <div class="field">
        <label for={`name-${day_id}`}>{people.length ? "Add a person" : "Your own name"}</label>
        <input
          id={`name-${day_id}`}
          value={form.name}
          maxLength={longestText("add_person.person.name")}
          autocomplete="off"
          onInput={(event) => write(event.currentTarget.value)}
        />
      </div>
      <Work label="Work" roles={work} change={(role) => set("work")(toggled(work, role))} />
      {/* Always there: the key below would move under a thumb that presses it at once. */}
      <p class="hint">Write the name, say what they do, one or several, then add.</p>
      {known ? (
        <SamePerson
          known={known}
          isNew={work.length > 0}
          same={() =>
            add(
              { ...known, roles: work.reduce(withRole, [...known.roles]), left: false },
              `${known.name} stands on the list once, with all of it.`,
            )
          }
          another={addAnother}
        />
      ) : (
        <button type="submit" disabled={!name || !work.length}>
          {name ? "Add" : "Write the name first"}
        </button>
      )}
    </form>
  );
}
