/**
 * The desk's version of a text: the record's own sentences, and what the desk made of them. A sentence that was struck,
 * rewritten or moved stays so while the record changes underneath; where the record has come to say something else
 * since, that is shown beside it until somebody decides.
 */

import { isStopped } from "./cautions.ts";
import type { SentenceVersion } from "./fields.ts";
import { lotDescription, lotHeading } from "./lot.ts";
import { conditionParagraph } from "./paragraph.ts";
import { asText, type Sentence } from "./sentences.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

export type TextName = SentenceVersion["text"];
export const TEXTS = ["heading", "description", "condition"] as const satisfies readonly TextName[];

/** Where a text stands that was typed as a whole, as it was before sentences had versions. */
export const TYPED_WHOLE = {
  heading: "heading",
  description: "lot_description",
  condition: "condition_words",
} as const;
const OWN = "own/";
const HELD = "held/";
/** In which order the record speaks of things: a sentence that it no longer says keeps its place among them. */
const TOPICS = [
  ...["heading", "what", "seen_words", "colour_now", "maker_certainty", "dates_certainty"],
  ...["marks", "marks_looked", "counted", "sizes"],
  ...["overall", "findings", "origins", "tests", "denials", "statements"],
  ...["unseen", "without", "going-on", "held", "lights"],
];

/** One sentence of a text as the desk has it. */
export type Line = {
  /** its key, under which the desk's version of it stands */
  sentence: string;
  /** what is printed; "" if nothing is */
  words: string;
  /** what the record says of the same, now */
  recorded: Sentence[];
  version: SentenceVersion | null;
  /** whether the record says something else than it did when the desk decided */
  differs: boolean;
  /** what is said of a caution is not the desk's to change */
  fixed: boolean;
};

export type DeskText = {
  name: TextName;
  lines: Line[];
  /** the text that was typed as a whole, and is printed instead of the lines; "" if there is none */
  whole: string;
  /** what is printed, answered and handed over */
  words: string;
  isOrdered: boolean;
};

/** The three texts of a lot as the desk has them. */
export function deskTexts(plan: Plan | null, book: PlanBook, record: RecordCopy): DeskText[] {
  return TEXTS.map((name) => deskText(name, recordedSentences(name, plan, book, record), record));
}

/** Of how many sentences the record says something else now than when the desk decided. */
export function countDiffering(texts: readonly DeskText[]): number {
  return texts.flatMap(({ lines }) => lines).filter(({ differs }) => differs).length;
}

function recordedSentences(name: TextName, plan: Plan | null, book: PlanBook, record: RecordCopy) {
  switch (name) {
    case "heading":
      return [lotHeading(book, record)].filter((heading) => heading !== null);
    case "description":
      return lotDescription(plan, book, record);
    case "condition":
      return plan ? conditionParagraph(plan, book, record) : [];
  }
}

function deskText(name: TextName, recorded: Sentence[], record: RecordCopy): DeskText {
  // Of what is stopped only its caution is said, whatever the desk wrote before.
  const isSilenced = name === "condition" && isStopped(record);
  const versions = isSilenced ? [] : versionsOf(record, name);
  const order = fieldValue(record, `sentence-order/${name}`) ?? [];
  const whole = isSilenced ? "" : (fieldValue(record, TYPED_WHOLE[name])?.trim() ?? "");
  const lines = inOrder(linesOf(recorded, versions), order);
  const words = lines.map((line) => line.words).filter(Boolean);
  return { name, lines, whole, words: whole || words.join(" "), isOrdered: order.length > 0 };
}

function versionsOf(record: RecordCopy, text: TextName): SentenceVersion[] {
  return listed(record, "sentences/")
    .map(({ value }) => value)
    .filter((version) => version.text === text && version.version !== "as-recorded")
    .sort((a, b) => a.sentence.localeCompare(b.sentence));
}

function covers({ speaks_of }: SentenceVersion, { keys }: Sentence) {
  return keys.some((key) => speaks_of.includes(key));
}

/** A version stands where the first sentence stood that it covers; one that covers none, among its like. */
function linesOf(recorded: Sentence[], versions: SentenceVersion[]): Line[] {
  const lines: Line[] = [];
  const placed = new Set<SentenceVersion>();
  for (const sentence of recorded) {
    const covering = versions.filter((version) => covers(version, sentence));
    if (!covering.length) lines.push(asRecorded(sentence));
    for (const version of covering) if (!placed.has(version)) lines.push(asWritten(version, recorded));
    for (const version of covering) placed.add(version);
  }
  for (const version of versions) {
    if (placed.has(version) || version.version === "struck") continue;
    const behind = lines.findLastIndex((line) => topicOf(line.sentence) <= topicOf(version.sentence));
    lines.splice(behind + 1, 0, asWritten(version, recorded));
  }
  return lines;
}

function topicOf(sentence: string) {
  const index = TOPICS.indexOf(sentence.split("/")[0] ?? "");
  return index < 0 ? TOPICS.length : index;
}

function asRecorded(recorded: Sentence): Line {
  const sentence = recorded.keys[0] ?? recorded.words;
  const fixed = recorded.keys.some((key) => key.startsWith(HELD));
  return { sentence, words: recorded.words, recorded: [recorded], version: null, differs: false, fixed };
}

function asWritten(version: SentenceVersion, every: Sentence[]): Line {
  const recorded = every.filter((sentence) => covers(version, sentence));
  return {
    sentence: version.sentence,
    words: version.version === "struck" ? "" : version.words.trim(),
    recorded,
    version,
    differs: asText(recorded) !== version.record_words,
    fixed: false,
  };
}

/** Lines in the order that the desk chose; one that it has not named stays behind the one that it was behind. */
function inOrder(lines: Line[], order: string[]): Line[] {
  if (!order.length) return lines;
  const rank = (line: Line) => {
    const ranks = keysOfLine(line).map((key) => order.indexOf(key));
    return Math.min(...ranks.map((at) => (at < 0 ? Infinity : at)));
  };
  const named = lines.filter((line) => rank(line) < Infinity).sort((a, b) => rank(a) - rank(b));
  lines.forEach((line, at) => {
    if (rank(line) === Infinity) named.splice(at ? named.indexOf(lines[at - 1] as Line) + 1 : 0, 0, line);
  });
  return named;
}

/** The keys of all that a line speaks of, its own first. */
export function keysOfLine({ sentence, recorded, version }: Line): string[] {
  const keys = [sentence, ...(version?.speaks_of ?? []), ...recorded.flatMap((sentence) => sentence.keys)];
  return [...new Set(keys)];
}

/** The members of a version of a line: what it speaks of, and what the record says of it now. */
export function versionOf(text: TextName, line: Line, version: SentenceVersion["version"], words = "") {
  const isOwn = line.sentence.startsWith(OWN);
  return {
    text,
    sentence: line.sentence,
    speaks_of: isOwn ? [] : keysOfLine(line),
    record_words: asText(line.recorded),
    version,
    words,
  } satisfies SentenceVersion;
}

/** A sentence that the desk adds and of which nothing is written yet; `id` is new. */
export function newLine(id: string): Line {
  return { sentence: OWN + id, words: "", recorded: [], version: null, differs: false, fixed: false };
}

export function isAdded({ sentence }: Line) {
  return sentence.startsWith(OWN);
}

/** The order of a text after one of its lines was moved up or down by one. */
export function orderAfter(lines: Line[], line: Line, by: -1 | 1): string[] {
  const order = lines.map(({ sentence }) => sentence);
  const at = order.indexOf(line.sentence);
  const to = at + by;
  if (at < 0 || to < 0 || to >= order.length) return order;
  order.splice(to, 0, ...order.splice(at, 1));
  return order;
}
