/** Who can stand beside somebody on a day, and what its next table is called. */

import { namesToChoose, peopleHere, tablesOf } from "./day_facts.ts";
import { asOneName } from "./one_name.ts";
import type { DayRecord } from "./types.ts";

/** "Table 5": the first number after those of the tables that no table has, nor had. */
export function freeTableName(day: DayRecord) {
  const names = new Set(tablesOf(day).map(({ name }) => asOneName(name)));
  let number = names.size + 1;
  while (names.has(`table ${number}`)) number += 1;
  return `Table ${number}`;
}

/**
 * Those of them who can stand beside a person: not the same one, listed again or written otherwise. Their names are
 * those to choose, and are recorded so: two of one name are told apart on record as well.
 */
export function othersHere(day: DayRecord, person_id: string) {
  const me = peopleHere(day).find((person) => person.person_id === person_id);
  const words = new Map(namesToChoose(day));
  return othersThan(day, me?.name ?? "").map((person) => ({
    ...person,
    name: words.get(person.person_id) ?? person.name,
  }));
}

/** The same beside somebody of this name, as they are on the list. */
export function othersThan(day: DayRecord, name: string) {
  return peopleHere(day).filter((person) => asOneName(person.name) !== asOneName(name));
}
