/**
 * The lot description and its heading, from the record alone. What the owner told, terms, reserve and price never
 * come in: this module does not read them.
 */

import { listInWords, nameInWords, withSmallLetter } from "./english.ts";
import type { Apart } from "./families.ts";
import type { WordsField } from "./fields.ts";
import { markSentences } from "./marks.ts";
import { type Part, type Sentence, sentence, withoutStop } from "./sentences.ts";
import { countKey, countWords, sizeKey, sizeWords } from "./sizes.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy } from "./values.ts";

const LADDER: Record<string, (name: string) => string> = {
  by: (name) => `by ${name}`,
  "attributed-to": (name) => `attributed to ${name}`,
  "workshop-of": (name) => `workshop of ${name}`,
  "circle-of": (name) => `circle of ${name}`,
  "follower-of": (name) => `follower of ${name}`,
  "manner-of": (name) => `in the manner of ${name}`,
  after: (name) => `after ${name}`,
};

/** The heading: the thing first, then when and by whom. Null if nobody has named it. */
export function lotHeading(book: PlanBook, record: RecordCopy): Sentence | null {
  const name = plainName(book, record);
  if (!name) return null;
  return { ...joined([name, ...dateWords(book, record), ...makerWords(record)]), keys: ["heading"] };
}

/** The description, sentence by sentence. */
export function lotDescription(
  plan: Plan | null,
  book: PlanBook,
  record: RecordCopy,
  apart?: Apart,
): Sentence[] {
  const name = plainName(book, record);
  if (!name) return [];
  const { words: what, from: facts } = joined([
    name,
    ...dateWords(book, record),
    ...makerWords(record),
    ...within(book, materialsBeyond(record, name.words)),
  ]);
  return [
    sentence(what, facts, ["what"]),
    ...wordsOf(record, "seen_words").map(({ words, from }) => sentence(words, from)),
    ...colours(book, record),
    ...(fieldValue(record, "maker_certainty") === "unknown"
      ? [sentence("maker not determined", ["maker_certainty"])]
      : []),
    ...(fieldValue(record, "dates_certainty") === "not-determined"
      ? [sentence("date not determined", ["dates_certainty"])]
      : []),
    ...markSentences(plan, book, record),
    ...listedInOne("counted: ", countWords(plan, book, record), countKey, apart),
    ...listedInOne("", sizeWords(plan, book, record), sizeKey, apart),
  ];
}

function joined(parts: Part[]): Part {
  return { words: parts.map(({ words }) => words).join(", "), from: parts.flatMap(({ from }) => from) };
}

function listedInOne(
  begins: string,
  parts: Part[],
  keyOf: (part: Part) => string,
  apart?: Apart,
): Sentence[] {
  const groups = groupedBy(parts, (part) => apart?.(keyOf(part)) ?? "");
  return [...groups.values()].map((some) => {
    const words = listInWords(some.map(({ words }) => words));
    return sentence(`${begins}${words}`, joined(some).from, some.map(keyOf));
  });
}

/** What it is, with its article. */
function plainName(book: PlanBook, record: RecordCopy): Part | null {
  const name = withoutStop(fieldValue(record, "short_description") ?? "");
  return name ? { words: nameInWords(name, book.print.english), from: ["short_description"] } : null;
}

/** A field of words, without the stop at its end. */
function wordsOf(record: RecordCopy, field: WordsField): Part[] {
  const words = withoutStop(fieldValue(record, field) ?? "");
  return words ? [{ words, from: [field] }] : [];
}

/** Of the materials those that the name has not said: a bone china teapot is of enamels and gilding, too. */
function materialsBeyond(record: RecordCopy, name: string): Part[] {
  const named = wordsIn(name);
  return wordsOf(record, "materials").flatMap(({ words, from }) => {
    const beyond = words.split(/,\s*/).filter((material) => !isWithin(wordsIn(material), named));
    return beyond.length ? [{ words: beyond.join(", "), from }] : [];
  });
}

function wordsIn(words: string) {
  return words.toLowerCase().split(/[\s,]+/);
}

/** Whether some words stand in others one after the other. */
function isWithin(some: string[], others: string[]) {
  return others.some((_, at) => some.every((word, on) => others[at + on] === word));
}

/** Words that were a line of their own, as they stand within a sentence. */
function within(book: PlanBook, parts: Part[]): Part[] {
  return parts.map((part) => ({ ...part, words: withSmallLetter(part.words, book.print.english) }));
}

/** One hedge to a statement: words that have one get no other. */
/** The date with its hedge; none while nobody gave one, or it could not be determined. */
export function dateWords(book: PlanBook, record: RecordCopy): Part[] {
  const words = fieldValue(record, "dates")?.words?.trim();
  const certainty = fieldValue(record, "dates_certainty");
  if (!words || certainty === "not-determined") return [];
  const hedge = certainty === "probable" ? "probably " : certainty === "possible" ? "possibly " : "";
  const from = ["dates", ...(certainty ? ["dates_certainty"] : [])];
  return [{ words: isHedged(book, words) ? words : hedge + words, from }];
}

function isHedged(book: PlanBook, words: string) {
  const { hedges } = book.print.english;
  const typed = words.toLowerCase().split(/[\s,()-]+/);
  return words.includes("?") || typed.some((word) => hedges.includes(word.replace(/(?<=\.)\d.*$/, "")));
}

/** A name is printed only with its rung of the ladder. */
export function makerWords(record: RecordCopy): Part[] {
  const name = fieldValue(record, "maker")?.trim();
  const rung = LADDER[fieldValue(record, "maker_certainty") ?? ""];
  if (fieldValue(record, "maker_certainty") === "region-period" && name)
    return [{ words: name, from: ["maker", "maker_certainty"] }];
  return name && rung ? [{ words: rung(name), from: ["maker", "maker_certainty"] }] : [];
}

/** Faded "from" is said only where the first colour was seen. */
function colours(book: PlanBook, record: RecordCopy): Sentence[] {
  const [now] = within(book, wordsOf(record, "colour_now"));
  const [was] = within(book, wordsOf(record, "colour_was"));
  if (now && was)
    return [
      sentence(
        `colour now ${now.words}; where light did not reach, ${was.words}`,
        [...now.from, ...was.from],
        now.from,
      ),
    ];
  return now ? [sentence(`colour now ${now.words}; first colour not seen`, now.from)] : [];
}
