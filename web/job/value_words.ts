/** A value of a record's field for people, and what fields are called. */

import { placedWords } from "./custody.ts";
import { FAMILY_WORDS, FIELD_WORDS } from "./field_words.ts";
import type { Families, FindingValue, Size, TestValue, ValueAt } from "./fields.ts";
import {
  className,
  denialWords,
  evidenceWords,
  findingWords,
  type Lists,
  lightWords,
  measureWords,
  NO_LISTS,
  originalityWords,
  reasonWords,
  sizeWords,
  termWords,
  testName,
  testWords,
  viewWords,
  zoneWords,
} from "./list_words.ts";
import type { Person } from "./operations.ts";
import { neverHadIt } from "./progress.ts";
import {
  countWords,
  DATE_CERTAINTIES,
  ENTRY_WORDS,
  MAKER_CERTAINTIES,
  STAGES,
  STATE_WORDS,
  spaced,
} from "./words.ts";

/** What stands behind a family's name, by the list that it is a key of. */
const BEHIND: Readonly<Record<string, (lists: Lists, key: string) => string>> = {
  zones: (lists, key) => zoneWords(lists, key).replace(/^the /, ""),
  origins: zoneWords,
  denials: (lists, key) => {
    const end = key.lastIndexOf("/");
    return `${zoneWords(lists, key.slice(0, end))}, ${termWords(lists, key.slice(end + 1))}`;
  },
  measures: measureWords,
  tests: testName,
  views: viewWords,
};

/** A field's name for people. */
export function fieldWords(name: string, lists = NO_LISTS) {
  const [head = "", ...rest] = name.split("/");
  const words = FIELD_WORDS[name] ?? FAMILY_WORDS[`${head}/${rest[0]}`] ?? FAMILY_WORDS[head] ?? "something";
  const behind = lists.book && BEHIND[head]?.(lists, rest.join("/"));
  return words
    .replace("{rest}", () => behind ?? rest.join(", ").replace(/[-_]/g, " "))
    .replace("{text}", () => rest[0] ?? "text");
}

/** What a photo is called: by the view it serves, else by its zone. */
export function photoWords(
  { view, zone }: { view?: string | null; zone?: string | null },
  lists = NO_LISTS,
): string {
  return view ? viewWords(lists, view) : zone ? zoneWords(lists, zone) : "no view named";
}

/** One of a list, by its words; what the list does not know is spaced. */
function listedWords(list: readonly (readonly [string, string])[], key: string) {
  return list.find(([name]) => name === key)?.[1].toLowerCase() ?? spaced(key);
}

/** Facts that hold a word of a list, an id or a digest: how each is said. */
const FACTS: Readonly<Record<string, (value: string, lists: Lists) => string>> = {
  class_id: (value, lists) => className(lists, value),
  plan_version: () => "the plan as it stood then",
  stage: (value) => listedWords(STAGES, value),
  table_id: () => "a table",
  private: () => "private",
  maker_certainty: (value) => listedWords(MAKER_CERTAINTIES, value),
  dates_certainty: (value) => listedWords(DATE_CERTAINTIES, value),
  maker_evidence: (value, lists) => evidenceWords(lists, value),
  dates_evidence: (value, lists) => evidenceWords(lists, value),
  "consignor/acting_as": (value) => spaced(value),
};
/** An id, a digest, or the beginning of one: nobody reads anything in it. */
const NO_WORD = /^(?:[0-9a-f]{8}-[0-9a-f-]{27}|[0-9a-f]{16,64})$/;

/** A text for people, by the field it stands in; an id is not shown whatever field it is in. */
function textWords(text: string, field: string, lists: Lists): string {
  const words = FACTS[field]?.(text, lists) ?? text;
  return NO_WORD.test(words) ? "an entry of the records" : words;
}

/**
 * A value for people; `field` is the name of the field it stands in, where that is known, and `lists` are those of the
 * plan that its record was made with.
 */
export function valueWords(given: unknown, field = "", lists = NO_LISTS): string {
  if (given === null || given === undefined || given === "") return "nothing";
  if (typeof given === "string") return textWords(given, field, lists);
  if (typeof given !== "object") return String(given);
  if (Array.isArray(given))
    return (
      given.map((value) => FACTS[field]?.(String(value), lists) ?? spaced(String(value))).join(", ") ||
      "nothing"
    );
  // Which family it is of is told by its members; all but a few of them are words.
  const value = given as Members;
  const withdrawn = value.withdrawn ? ", withdrawn" : "";
  const words = examinedWords(value, field, lists) ?? thingWords(value);
  return (
    (words === null ? keptWords(value, lists) : words && words + withdrawn) || "more than a line can say"
  );
}

type Members = Partial<Record<string, string>>;

/** The families whose members are not all words, each by what none before it has. */
const isSize = (value: object): value is Size => "typed" in value;
const isTest = (value: object): value is TestValue => "result" in value;
const isDenial = (value: Members): value is Members & Families["denials"] =>
  Boolean(value.light && value.term) && !("severity" in value);
const isFinding = (value: Members): value is Members & FindingValue => Boolean(value.term);
const isPerson = (value: object): value is Person => "roles" in value;
const isClosing = (value: Members): value is Members & ValueAt<"closed"> => Boolean(value.closed_by);

/** What was said of a thing in front of it, in the words of the plan's lists; null for a value of another kind. */
function examinedWords(value: Members, field: string, lists: Lists): string | null {
  if (isSize(value)) return sizeWords(lists, value);
  if (isTest(value)) return testWords(lists, field.slice(field.indexOf("/") + 1), value);
  if ("origin" in value && !value.term)
    return [value.origin ? originalityWords(lists, value.origin) : "nothing", value.note]
      .filter(Boolean)
      .join(", ");
  if (isDenial(value)) return denialWords(lists, value);
  if (isFinding(value)) return findingWords(lists, value);
  if (value.sha256) return value.view ? viewWords(lists, value.view) : "picture";
  if (value.state && value.state in STATE_WORDS)
    return [
      !neverHadIt(value) && STATE_WORDS[value.state],
      value.reason && reasonWords(lists, value.reason, field.replace(/^zones\//, "")),
      value.light && lightWords(lists, value.light),
    ]
      .filter(Boolean)
      .join(", ");
  return null;
}

/** What was transcribed, dated, worded, graded or raised of a thing; null for a value of another kind. */
function thingWords(value: Members): string | null {
  if ("edtf" in value) return value.words || "nothing";
  if ("reading" in value) return `“${value.text?.replaceAll("\n", " / ")}”, ${value.place}`;
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
  return null;
}

/** What was done with a thing, or belongs to the day; "" for what has no words of its own. */
function keptWords(value: Members, lists: Lists): string {
  if (value.ended) return endedWords(value);
  if (value.seal) return `seal ${value.seal}, ${spaced(value.state)}`;
  if (value.words) return `${value.words}${value.withdrawn ? ", withdrawn" : ""}`;
  if (value.state)
    return [ENTRY_WORDS[value.state] ?? spaced(value.state), value.reason].filter(Boolean).join(", ");
  if (value.tag)
    return [value.tag, value.piece && `piece ${value.piece} of ${value.of}`, value.mark]
      .filter(Boolean)
      .join(", ");
  if (isPerson(value)) return personWords(value);
  if (value.name) return value.gone ? `${value.name}, taken away` : value.name;
  if (value.number) return `receipt ${value.number}`;
  if (value.to_place) return placedWords(value.to_place, value.at ?? "");
  if ("reason" in value) return skippedWords(value, lists);
  if ("container_id" in value)
    return value.container_id
      ? `in ${lists.container?.(value.container_id) || "a container"}`
      : "in no container";
  if ("into_id" in value) return value.into_id ? `behind another record: ${value.why}` : "by itself";
  if (value.first_tag) return `${value.count} numbers from ${value.first_tag} to ${value.last_tag}`;
  if ("given_to" in value) return givenWords(value);
  if (isClosing(value)) return closedWords(value);
  return spaced(value.kind?.replaceAll("_", " "));
}

/** How a difference or an incident ended, and who says so. */
function endedWords({ ended, settled_by, present, second_by, words }: Members): string {
  const by = [
    settled_by && `settled by ${settled_by}`,
    ...[present, second_by].map((name) => name && `with ${name}`),
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

/** Who closed a day, and the first of the differences that they named, or how many those were. */
function closedWords({ closed_by, second_by, named, digest, count }: ValueAt<"closed">): string {
  if (digest)
    return `closed by ${closed_by} and ${second_by}, naming ${countWords(count ?? 0, "difference")}`;
  const more = named.length - NAMED_HERE;
  const first = [...named.slice(0, NAMED_HERE), ...(more > 0 ? [`${more} more`] : [])];
  return `closed by ${closed_by} and ${second_by}, naming ${first.join("; ") || "no difference"}`;
}

/** Why a view is not taken, by the house's word for it. */
export function skippedWords(
  { reason, note }: { reason?: string | null; note?: string | null },
  lists = NO_LISTS,
): string {
  return reason ? ["not taken", reasonWords(lists, reason), note].filter(Boolean).join(", ") : "to be taken";
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
