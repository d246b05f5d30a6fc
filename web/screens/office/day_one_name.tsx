/** One name twice on the day's list: asked where it is typed again, and made one where two came together. */

import { letterOf } from "../../job/day_facts.ts";
import type { Person } from "../../job/operations.ts";
import { spaced } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";

export const WORK: readonly (readonly [string, string])[] = [
  ["valuer", "Valuer"],
  ["clerk", "Clerk"],
  ["door", "Door"],
  ["porter", "Porter"],
  ["cataloguer", "Cataloguer"],
  ["manager", "Manager"],
];

/** The same roles with one more, or one less, in the order of the list; what the list does not know stays. */
export function toggled(roles: readonly string[], role: string): string[] {
  const next = roles.includes(role) ? roles.filter((value) => value !== role) : [...roles, role];
  const known = WORK.map(([key]) => key);
  return [...known.filter((key) => next.includes(key)), ...next.filter((value) => !known.includes(value))];
}

export function workWords(roles: readonly string[]) {
  const words = new Map(WORK);
  return roles.map((role) => (words.get(role) ?? spaced(role)).toLowerCase()).join(", ") || "no work named";
}

/** All that either does, without what is named twice. */
function workOf(people: readonly Person[]) {
  return people.flatMap(({ roles }) => roles).reduce<string[]>((all, role) => withRole(all, role), []);
}

export function withRole(roles: readonly string[], role: string) {
  return roles.includes(role) ? [...roles] : toggled(roles, role);
}

/** A name that came on the list twice, from two devices off the network mostly: they are one, or stay two. */
export function UnderOneName({ people, day_id }: { people: readonly Person[]; day_id: string }) {
  const [first, ...others] = people;
  if (!first) return null;
  const one = () =>
    attempt(async () => {
      await keep("add_person", { day_id, person: { ...first, roles: workOf(people) } });
      for (const other of others) await keep("add_person", { day_id, person: { ...other, left: true } });
      sayDone(`${first.name} stands on the list once. Whoever chose the other chooses anew.`, async () => {
        for (const person of people) await keep("add_person", { day_id, person });
      });
    });
  return (
    <div class="bar">
      <p>
        {people.length} on the list are called <strong>{first.name}</strong>:{" "}
        {people.map(({ roles }, index) => `${letterOf(index)} ${workWords(roles)}`).join("; ")}. Where a name
        is chosen they stand with these letters.
      </p>
      <button type="button" onClick={one}>
        They are one person
      </button>
    </div>
  );
}

type SamePersonOf = { known: Person; isNew: boolean; same: () => unknown; another: () => unknown };

/** A name that is on the list already, however it is typed: asked before there are two of it. */
export function SamePerson({ known, isNew, same, another }: SamePersonOf) {
  return (
    <div class="bar">
      <p>
        {known.name} is on the list already ({known.left ? "has left" : workWords(known.roles)}). Is it the
        same person?
      </p>
      <div class="chips">
        <button type="button" onClick={same}>
          The same person
        </button>
        <button type="button" disabled={!isNew} onClick={another}>
          {isNew ? "Another of that name" : "Another: say first what they do"}
        </button>
      </div>
    </div>
  );
}
