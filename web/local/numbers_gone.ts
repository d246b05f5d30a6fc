/**
 * Numbers that are on things of days which this device holds no longer, or were: no number is used twice, and with no
 * network nobody else says so. They are nobody's words.
 */
import { signal } from "@preact/signals-core";
import { dateWords, dayFacts } from "../job/day_facts.ts";
import { shown } from "../job/tag.ts";
import type { ContainerRecord, RecordCopy } from "../job/types.ts";
import { fieldValue, listed } from "../job/values.ts";
import type { Writing } from "./changes.ts";
import { settingIn, transact } from "./database.ts";
import { leaving } from "./day.ts";
import { recordOf, records } from "./memory.ts";

/** What is known of a number: it is on something, was on it and is gone, or was struck through. */
export type Gone = "on" | "off" | "struck";
/** By day, with its date; the day that left last comes last. */
export type NumbersGone = Record<string, { held_on: string; numbers: Record<string, Gone> }>;

/** So many at most: some days of a large house. */
const MOST = 20_000;

const known = signal<NumbersGone>({});

/** As the sentences' pack is loaded: what was noted is read, and what leaves from now on is noted. */
export function noteAsTheyLeave(): Promise<unknown> {
  leaving.note = async (tx, records, why) => {
    if (why !== "signed off") return noteNumbers(tx, records);
    known.value = {};
    await tx.delete("setting", "numbers gone");
  };
  return transact(["setting"], "readonly", (tx) => settingIn(tx, "numbers gone")).then((noted) => {
    known.value = noted ?? {};
  });
}

/** Why a number that is on nothing here is not to be used all the same, and what to do; "" if nothing is known. */
export function whyUsed(tag: string): string {
  const struck = (records("day") ?? []).find((day) => fieldValue(day, `spoiled/${tag}`));
  if (struck) return struckOn(tag, dayFacts(struck).held_on);
  const found = noteOf(tag);
  if (!found) return "";
  const { held_on, is } = found;
  if (is === "struck") return struckOn(tag, held_on);
  return is === "on"
    ? `${shown(tag)} is on something of ${dateWords(held_on)} already: take a fresh tag.`
    : `${shown(tag)} was on something of ${dateWords(held_on)} and is gone from it. A number never comes back: ` +
        "take a fresh tag.";
}

function struckOn(tag: string, held_on: string) {
  return `${shown(tag)} was struck through on ${dateWords(held_on)}: take a fresh tag.`;
}

/** What was noted of a number as the records of its day left, and the date of that day; null if nothing was. */
export function noteOf(tag: string): { held_on: string; is: Gone } | null {
  for (const { held_on, numbers } of Object.values(known.value).reverse())
    if (numbers[tag]) return { held_on, is: numbers[tag] };
  return null;
}

/** Note the numbers of records that leave. */
export async function noteNumbers(tx: Writing, going: readonly RecordCopy[], most = MOST) {
  const noted: NumbersGone = { ...(await tx.setting("numbers gone")) };
  let isNews = false;
  for (const record of going) {
    const found = numbersOf(record);
    if (!found.length) continue;
    isNews = true;
    const { day_id } = record;
    const before = noted[day_id];
    delete noted[day_id];
    const day = recordOf("day", day_id);
    const held_on = day ? dayFacts(day).held_on : (before?.held_on ?? "");
    noted[day_id] = { held_on, numbers: { ...before?.numbers, ...Object.fromEntries(found) } };
  }
  if (!isNews) return;
  const [last, ...earlier] = Object.keys(noted).reverse();
  let sum = Object.keys(noted[last ?? ""]?.numbers ?? {}).length;
  for (const day_id of earlier) {
    sum += Object.keys(noted[day_id]?.numbers ?? {}).length;
    if (sum > most) delete noted[day_id];
  }
  await tx.remember("numbers gone", noted);
  known.value = noted;
}

/** The numbers that a record has, each with what became of it. */
function numbersOf(record: RecordCopy): [string, Gone][] {
  return [
    ...listed(record, "tags/").map(({ id, value }): [string, Gone] => [id, value.gone ? "off" : "on"]),
    ...listed(record, "spoiled/").map(({ id }): [string, Gone] => [id, "struck"]),
    ...(record.kind === "container" ? [[(record as ContainerRecord).number, "on"] as [string, Gone]] : []),
  ];
}
