/** Words shown for the ids in records. */

import { FAMILY_WORDS, FIELD_WORDS } from "./field_words.ts";
import type { ValueAt } from "./fields.ts";
import type { Person, RecordTest, SetEntry } from "./operations.ts";
import { zoneName } from "./progress.ts";

export const CLASSES_WITHOUT_PLAN = "free";

export const STATE_WORDS: Record<string, string> = {
  clear: "Clear",
  finding: "Finding",
  "not-examined": "Not examined",
};
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

/** How near the maker stands. Source: the trade's usual ladder, common practice. */
export const MAKER_CERTAINTIES: [string, string][] = [
  ["by", "By them, in our opinion"],
  ["attributed-to", "Attributed to"],
  ["workshop-of", "Workshop of"],
  ["circle-of", "Circle of"],
  ["follower-of", "Follower of"],
  ["manner-of", "Manner of"],
  ["after", "After"],
  ["region-period", "Place and period only"],
  ["unknown", "Not determined"],
];
export const DATE_CERTAINTIES: [string, string][] = [
  ["certain", "Certain"],
  ["probable", "Probable"],
  ["possible", "Possible"],
  ["not-determined", "Not determined"],
];

/** A field's name for people. */
export function fieldWords(name: string) {
  const [head = "", ...rest] = name.split("/");
  const words = FIELD_WORDS[name] ?? FAMILY_WORDS[head] ?? "something";
  const behind = rest.join(", ").replace(/[-_]/g, " ");
  return words.replace("{rest}", () => behind).replace("{text}", () => rest[0] ?? "text");
}

/** The name of something for people: "under-a-lamp" is "under a lamp". */
export function spaced(name: string | null | undefined) {
  return (name ?? "").replaceAll("-", " ");
}

/** What a photo is called: by the view it serves, else by its zone. */
export function photoWords({ view, zone }: { view?: string | null; zone?: string | null }) {
  return spaced(view) || (zone ? zoneName(zone) : "no view named");
}

/** One of a list, by its words; what the list does not know is spaced. */
function listedWords(list: readonly (readonly [string, string])[], key: string) {
  return list.find(([one]) => one === key)?.[1].toLowerCase() ?? spaced(key);
}

/** Facts that hold a word of a list, an id or a digest: how each is said. */
const FACTS: Readonly<Record<string, (value: string) => string>> = {
  class_id: spaced,
  plan_version: () => "the plan as it stood then",
  stage: (value) => listedWords(STAGES, value),
  table_id: () => "a table",
  private: () => "private",
  maker_certainty: (value) => listedWords(MAKER_CERTAINTIES, value),
  dates_certainty: (value) => listedWords(DATE_CERTAINTIES, value),
  "consignor/acting_as": spaced,
};
/** An id, a digest, or the beginning of one: nobody reads anything in it. */
const NO_WORD = /^(?:[0-9a-f]{8}-[0-9a-f-]{27}|[0-9a-f]{16,64})$/;

/** A text for people, by the field it stands in; an id is not shown whatever field it is in. */
function textWords(text: string, field: string): string {
  const said = FACTS[field]?.(text) ?? text;
  return NO_WORD.test(said) ? "an entry of the records" : said;
}

/** A value for people; `field` is the name of the field it stands in, where that is known. */
export function valueWords(given: unknown, field = ""): string {
  if (given === null || given === undefined || given === "") return "nothing";
  if (typeof given === "string") return textWords(given, field);
  if (typeof given !== "object") return String(given);
  if (Array.isArray(given)) return given.map(String).map(spaced).join(", ") || "nothing";
  // Which family it is of is told by its members; all but a few of them are words.
  const value = given as Partial<Record<string, string>>;
  const withdrawn = value.withdrawn ? ", withdrawn" : "";
  return (examinedWords(value, withdrawn) ?? keptWords(value)) || "more than a line can say";
}

type Members = Partial<Record<string, string>>;

/** What was said of a thing in front of it; null for a value of another kind. */
function examinedWords(value: Members, withdrawn: string): string | null {
  if ("typed" in value) return value.typed || valueWords(value.value);
  if ("edtf" in value) return value.words || "nothing";
  if ("result" in value)
    return [spaced(value.result), spaced(value.why), value.note].filter(Boolean).join(", ");
  if ("reading" in value) return `“${value.text?.replaceAll("\n", " / ")}”, ${value.place}${withdrawn}`;
  if ("origin" in value && !value.term)
    return [spaced(value.origin) || "nothing", value.note].filter(Boolean).join(", ");
  if ("record_words" in value) return sentenceWords(value);
  if ("computed" in value) return value.word ?? `${value.computed}, as computed`;
  if (value.hazard)
    return [
      `${value.level} caution${value.sign ? `: ${value.sign}` : ""}`,
      ...("ticket" in value ? [value.ticket && `ticket ${value.ticket}`, value.place] : []),
    ]
      .filter(Boolean)
      .join(", ");
  if (value.decision) return `${spaced(value.decision)} by ${value.decided_by}`;
  if (value.light && value.term)
    return `no ${spaced(value.term)} on ${zoneName(value.zone ?? "")}, ${spaced(value.light)}${withdrawn}`;
  if (value.term)
    return `${spaced(value.term)} on ${zoneName(value.zone ?? "")}, severity ${value.severity}${withdrawn}`;
  if (value.sha256) return `${spaced(value.view) || "picture"}${withdrawn}`;
  return null;
}

/** What was done with a thing, or belongs to the day; "" for what has no words of its own. */
function keptWords(value: Members): string {
  if (value.ended) return endedWords(value);
  if (value.seal) return `seal ${value.seal}, ${spaced(value.state)}`;
  if (value.words) return `${value.words}${value.withdrawn ? ", withdrawn" : ""}`;
  if (value.state)
    return [
      STATE_WORDS[value.state] ?? ENTRY_WORDS[value.state] ?? spaced(value.state),
      spaced(value.reason),
      spaced(value.light),
    ]
      .filter(Boolean)
      .join(", ");
  if (value.tag)
    return [value.tag, value.piece && `piece ${value.piece} of ${value.of}`, value.mark]
      .filter(Boolean)
      .join(", ");
  if ("roles" in value) return personWords(value as unknown as Person);
  if (value.name) return value.gone ? `${value.name}, taken away` : value.name;
  if (value.number) return `receipt ${value.number}`;
  if (value.to_place) return [spaced(value.to_place), value.at].filter(Boolean).join(", ");
  if ("reason" in value) return skippedWords(value);
  if ("container_id" in value) return value.container_id ? "in a container" : "in no container";
  if ("into_id" in value) return value.into_id ? `behind another record: ${value.why}` : "by itself";
  if (value.first_tag) return `${value.count} numbers from ${value.first_tag} to ${value.last_tag}`;
  if ("given_to" in value) return givenWords(value);
  if (value.closed_by) return closedWords(value as unknown as ValueAt<"closed">);
  return spaced(value.kind?.replaceAll("_", " "));
}

/** How a difference or an incident ended, and who says so. */
function endedWords({ ended, settled_by, present, second_by, words }: Members): string {
  const by = [
    settled_by && `settled by ${settled_by}`,
    ...[present, second_by].map((one) => one && `with ${one}`),
  ];
  return [spaced(ended), ...by, words].filter(Boolean).join(", ");
}

/** Somebody on the day's list, with what they do there. */
function personWords({ name, roles, left }: Person): string {
  return `${name}: ${roles.map(spaced).join(", ") || "no work named"}${left ? "; has left" : ""}`;
}

/** Who has a roll of numbers, or a run of tickets. */
function givenWords({ first, last, given_to }: Members): string {
  const run = first ? `tickets ${first} to ${last}, ` : "";
  return `${run}${given_to ? `given to ${given_to}` : "given to nobody"}`;
}

const NAMED_HERE = 3;

/** Who closed a day, and the first of the differences that they named. */
function closedWords({ closed_by, second_by, named }: ValueAt<"closed">): string {
  const more = named.length - NAMED_HERE;
  const first = [...named.slice(0, NAMED_HERE), ...(more > 0 ? [`${more} more`] : [])];
  return `closed by ${closed_by} and ${second_by}, naming ${first.join("; ") || "no difference"}`;
}

/** Why a view is not taken, by the house's word for it. */
export function skippedWords({ reason, note }: { reason?: string | null; note?: string | null }) {
  return reason ? ["not taken", spaced(reason), note].filter(Boolean).join(", ") : "to be taken";
}

type SaidOfSentence = { version?: string; words?: string; record_words?: string };

/** What the desk made of a sentence. */
export function sentenceWords({ version, words, record_words }: SaidOfSentence) {
  switch (version) {
    case "struck":
      return `struck: “${record_words}”`;
    case "rewritten":
      return `“${words}”`;
    default:
      return `as the record has it: “${record_words}”`;
  }
}

/** What an error says; whatever else was thrown, as a text. */
export function errorWords(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
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
