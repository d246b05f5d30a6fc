/** What a valuation day is set up with, and what is still wrong with it, in words. */
import { CURRENCIES } from "./currencies.ts";
import { dayFacts } from "./day_facts.ts";
import { longestText } from "./kinds_read.ts";
import type { Person } from "./operations.ts";
import type { DayRecord } from "./types.ts";
import { listed } from "./values.ts";

/** `people`: whose work on the day before is theirs on this one, too. */
export type DayForm = {
  house: string;
  place: string;
  held_on: string;
  currency: string;
  tables: string;
  people: "again" | "nobody";
};

/** As the day before was, on the first date that is neither over nor that day's. */
export function formAfter(before: DayRecord | undefined, today: string): DayForm {
  if (!before)
    return { house: "", place: "", held_on: today, currency: "GBP", tables: "3", people: "nobody" };
  const { house, place, held_on, currency, tables } = dayFacts(before);
  const next = held_on < today ? today : dateAfter(held_on);
  return { house, place, held_on: next, currency, tables: `${tables.length}`, people: "again" };
}

const A_DAY_MS = 86_400_000;

function dateAfter(date: string) {
  const moment = Date.parse(date);
  return Number.isNaN(moment) ? date : new Date(moment + A_DAY_MS).toISOString().slice(0, 10);
}

/** Whoever worked on the day before and had not left. */
export function peopleAgain(before: DayRecord | undefined): Person[] {
  return before ? listed(before, "people/").flatMap(({ value }) => (value.left ? [] : value)) : [];
}

export const MOST_TABLES = 30;

/** What is wrong with a currency's code; empty if nothing is. */
export function wrongWithCurrency(code: string): string {
  const typed = code.trim().toUpperCase();
  if (CURRENCIES.split(" ").includes(typed)) return "";
  const found = typed ? `${typed} is no currency` : "The currency is missing";
  return `${found}: three letters such as GBP, EUR or USD.`;
}

/** The first thing that keeps a day from being set up; empty if nothing does. */
export function wrongWithDay({ house, place, held_on, currency, tables }: DayForm): string {
  const texts = [
    ["house", house, longestText("open_day.house")],
    ["place", place, longestText("open_day.place")],
  ] as const;
  for (const [name, text, most] of texts) {
    if (!text.trim()) return `The ${name} is missing.`;
    if ([...text].length > most) return `The ${name} has more than ${most} letters: make it shorter.`;
  }
  if (!/^\d{4}-\d\d-\d\d$/.test(held_on)) return "The date is missing.";
  const count = Number(tables);
  if (!Number.isInteger(count) || count < 1 || count > MOST_TABLES)
    return `A day has 1 to ${MOST_TABLES} tables.`;
  return wrongWithCurrency(currency);
}
