/** What a day is: as it was set up, with what the manager has corrected since. */
import { asOneName } from "./one_name.ts";
import type { DayRecord } from "./types.ts";
import { fieldValue, groupedBy, listed, onceEachState } from "./values.ts";

export type DayFacts = Pick<DayRecord, "house" | "place" | "held_on" | "currency" | "tables">;

/** House, place and date as they stand now, and the tables that there are; a day has few of them. */
export const dayFacts = onceEachState((record): DayFacts => {
  const day = record as DayRecord;
  return {
    house: fieldValue(day, "house") ?? day.house,
    place: fieldValue(day, "place") ?? day.place,
    held_on: fieldValue(day, "held_on") ?? day.held_on,
    currency: day.currency,
    tables: tablesOf(day).flatMap(({ table_id, name, gone }) => (gone ? [] : [{ table_id, name }])),
  };
}) as (day: DayRecord) => DayFacts;

/** Every table there was: those of the beginning in their order, then those that came, each under its name of now. */
export function tablesOf(day: DayRecord): { table_id: string; name: string; gone: boolean }[] {
  const first = day.tables.map(({ table_id, name }) => ({ table_id, name, gone: false }));
  const set = new Map(listed(day, "tables/").map(({ id, value }) => [id, { table_id: id, ...value }]));
  const added = [...set.values()].filter(
    ({ table_id }) => !first.some((table) => table.table_id === table_id),
  );
  return [...first.map((table) => set.get(table.table_id) ?? table), ...added];
}

/**
 * Those tables whose names are one: the day's first ones, then those that came, in the order of their ids. Two managers
 * off the network name one each.
 */
export function tablesOfOneName(day: DayRecord) {
  const first = new Set(day.tables.map(({ table_id }) => table_id));
  const isBefore = (a: string, b: string) => (first.has(a) === first.has(b) ? a < b : first.has(a));
  const byName = groupedBy(tablesOf(day), ({ name }) => asOneName(name));
  return [...byName.values()]
    .filter(({ length }) => length > 1)
    .map((tables) => tables.sort((a, b) => (isBefore(a.table_id, b.table_id) ? -1 : 1)));
}

/** Every table with the words by which it is chosen: those of one name have a letter in their order. */
export function tablesApart(day: DayRecord) {
  const letters = new Map(
    tablesOfOneName(day).flatMap((tables) =>
      tables.map(({ table_id }, index) => [table_id, ` ${letterOf(index)}`]),
    ),
  );
  return tablesOf(day).map((table) => ({
    ...table,
    words: table.name + (letters.get(table.table_id) ?? ""),
  }));
}

const DATE = new Intl.DateTimeFormat("en-GB", {
  day: "numeric",
  month: "long",
  year: "numeric",
  timeZone: "UTC",
});

/** A date of the calendar as a person says it: "14 March 2026"; as it stands if it is none. */
export function dateWords(held_on: string): string {
  const moment = Date.parse(held_on);
  return Number.isNaN(moment) ? held_on : DATE.format(moment);
}

/** A day in one line: when, whose and where. */
export function dayWords(day: Pick<DayFacts, "held_on" | "house" | "place"> | DayRecord): string {
  const { held_on, house, place } = "kind" in day ? dayFacts(day) : day;
  return `${dateWords(held_on)}: ${house}, ${place}`;
}

/** A person's name by their id. */
export type Who = (person_id: string) => string;

/** The names of the day's list; of whoever is not on it that is said. */
export function namesOn(day: DayRecord | null | undefined): Who {
  const people = new Map(day ? listed(day, "people/").map(({ id, value }) => [id, value.name]) : []);
  return (person_id) =>
    people.get(person_id) ?? (person_id ? "somebody not on a list" : "somebody who gave no name");
}

/** Who works on the day now, by name; who has left stays on record for what they made. */
export function peopleHere(day: DayRecord) {
  return listed(day, "people/")
    .map(({ value }) => value)
    .filter(({ left }) => !left)
    .sort((a, b) => a.name.localeCompare(b.name));
}

/** Those of them whose names are one, each name's people in the order of their ids, which go by the clock. */
export function ofOneName(day: DayRecord) {
  const byName = groupedBy(peopleHere(day), ({ name }) => asOneName(name));
  return [...byName.values()]
    .filter(({ length }) => length > 1)
    .map((people) => people.sort((a, b) => (a.person_id < b.person_id ? -1 : 1)));
}

/** What one of a name is told from the others by. */
export function letterOf(index: number) {
  return String.fromCharCode(65 + index);
}

/** Who is at work, by the name to choose: of one name, each has their work with it, and a letter in their order. */
export function namesToChoose(day: DayRecord): [person_id: string, words: string][] {
  const apart = new Map(
    ofOneName(day).flatMap((people) =>
      people.map((person, index) => [person.person_id, ` ${letterOf(index)} (${person.roles.join(", ")})`]),
    ),
  );
  return peopleHere(day).map(({ person_id, name }) => [person_id, name + (apart.get(person_id) ?? "")]);
}

/** Somebody who has left each of these days whose list has them; undefined if they are at work on one, or on none. */
export function personLeft(days: readonly DayRecord[], person_id: string) {
  const found = days.flatMap((day) => fieldValue(day, `people/${person_id}`) ?? []);
  return found.every(({ left }) => left) ? found[0] : undefined;
}

/** "The day is closed: by ... and ..., 14 Mar, 17:42."; "" while it is open. `at` says an instant in words. */
export function closedWords(day: DayRecord, at: (instant: string) => string): string {
  const closed = fieldValue(day, "closed");
  const since = day.fields.closed?.made_at;
  return closed
    ? `The day is closed: by ${closed.closed_by} and ${closed.second_by}${since ? `, ${at(since)}` : ""}.`
    : "";
}
