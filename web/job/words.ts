/** Words shown for the ids in records. */

import type { DateCertainty, MakerCertainty } from "./kinds.ts";
import type { RecordTest, SetEntry } from "./operations.ts";

export const CLASSES_WITHOUT_PLAN = "free";

export const STATE_WORDS: Record<string, string> = {
  clear: "Clear",
  finding: "Finding",
  "not-examined": "Not examined",
};
/** What stands in place of a state that says so. */
export const HAS_NONE = "It has none";
/** Where an owner is on the day. */
export const STAGES = [
  ["waiting", "Waiting"],
  ["at-table", "At the table"],
  ["left", "Left"],
] as const;
export type Stage = (typeof STAGES)[number][0];
export type EntryState = SetEntry["state"];
export const ENTRY_STATES: readonly (readonly [EntryState, string])[] = [
  ["waiting", "Waiting"],
  ["picked-up", "Picked up"],
  ["described", "Described"],
];
export const ENTRY_WORDS: Record<string, string> = Object.fromEntries(ENTRY_STATES);

/** What came of trying something. */
export const TEST_RESULTS: readonly (readonly [RecordTest["result"], string])[] = [
  ["works", "Works"],
  ["works-in-part", "Works in part"],
  ["no-response", "No response"],
  ["not-done", "Not done"],
];

/** Each with its words, in their order; one that the office does not take, or that has none, does not compile. */
function entriesOf<Name extends string>(words: Record<Name, string>) {
  return Object.entries(words) as [Name, string][];
}

/** How near the maker stands. Source: the trade's usual ladder, common practice. */
export const MAKER_CERTAINTIES = entriesOf<MakerCertainty>({
  by: "By them, in our opinion",
  "attributed-to": "Attributed to",
  "workshop-of": "Workshop of",
  "circle-of": "Circle of",
  "follower-of": "Follower of",
  "manner-of": "Manner of",
  after: "After",
  "region-period": "Place and period only",
  unknown: "Not determined",
});
export const DATE_CERTAINTIES = entriesOf<DateCertainty>({
  certain: "Certain",
  probable: "Probable",
  possible: "Possible",
  "not-determined": "Not determined",
});

/** The name of something for people: "under-a-lamp" is "under a lamp", and "re-sewn" stays one word. */
export function spaced(name: string | null | undefined) {
  return (name ?? "").replace(/(\bre)?-/g, (_, again) => (again ? "re-" : " "));
}

/**
 * What an error of ours says. The browser's and the engine's own have names of their own, and words that differ from
 * one to the next and say nothing of what to do; one with a cause has our words for it.
 */
export function errorWords(error: unknown): string {
  const isOurs = error instanceof Error && (error.name === "Error" || error.cause);
  return isOurs ? error.message : "This did not work. Try again; if it stays so, open the app again.";
}

export function firstUpper(words: string) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Nouns whose plural is not the noun with an s; a noun of several words has its plural in the last one. */
const PLURALS: Readonly<Record<string, string>> = { person: "people", entry: "entries", copy: "copies" };

/** A noun for so many: one photo, two photos, no photos. */
export function pluralOf(count: number, noun: string) {
  return count === 1 ? noun : (PLURALS[noun] ?? `${noun}s`);
}

export function isOrAre(count: number) {
  return count === 1 ? "is" : "are";
}

/** A count with its noun: "1 photo", "2 photos". */
export function countWords(count: number, noun: string) {
  return `${count} ${pluralOf(count, noun)}`;
}
