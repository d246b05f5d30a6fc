/**
 * The desk's version of a text: the record's own sentences, and what the desk made of them. A sentence that was struck,
 * rewritten or moved stays so while the record changes underneath; where the record has come to say something else
 * since, that is shown beside it until somebody decides.
 */

import { asOffered } from "./as_offered.ts";
import { isStopped } from "./cautions.ts";
import type { Apart, Described } from "./families.ts";
import type { SentenceVersion } from "./fields.ts";
import { isGoneHome } from "./gone_home.ts";
import { lotDescription, lotHeading } from "./lot.ts";
import { isGraveSince, isOvertaken, isTakenTooFar } from "./overtaken.ts";
import { conditionParagraph } from "./paragraph.ts";
import { asText, type Sentence } from "./sentences.ts";
import { planFor } from "./tests_fitted.ts";
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
/** As many keys as an order may name; a text says far less. */
const MOST_KEYS = 400;
/** In which order the record speaks of things: a sentence that it no longer says keeps its place among them. */
const TOPICS = [
  ...["heading", "what", "seen_words", "concluded_words", "colour_now", "maker_certainty", "dates_certainty"],
  ...["marks", "marks_looked", "listed", "counted", "sizes", "not-measured"],
  ...[
    "overall",
    "findings",
    "which-piece",
    "unmeasured",
    "check-in",
    "origins",
    "tests",
    "both",
    "untried",
    "denials",
    "statements",
  ],
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
  /** keys of what the record has come to say in the same sentence: printed by itself, in a line of its own */
  beside: string[];
  version: SentenceVersion | null;
  /** whether the record says something else than it did when the desk decided */
  differs: boolean;
  /** what is said of a caution is not the desk's to change */
  fixed: boolean;
};

/** A text as the record has it, and with what the desk has written of in sentences of its own. */
type Recorded = { joined: Sentence[]; parted: Sentence[]; described: Described | null };

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
  return TEXTS.map((name) => {
    const sentences = (apart?: Apart) => recordedSentences(name, plan, book, record, apart);
    const seen = asOffered(record);
    return deskText(name, sentences, seen, plan && { plan: planFor(plan, seen), book, record: seen });
  });
}

/** Of how many sentences the record says something else now than when the desk decided. */
export function countDiffering(texts: readonly DeskText[]): number {
  return texts.flatMap(({ lines }) => lines).filter(({ differs }) => differs).length;
}

/** Where the desk has written of some of what the record would say in one sentence, the rest of it is said `apart`. */
function recordedSentences(
  name: TextName,
  plan: Plan | null,
  book: PlanBook,
  record: RecordCopy,
  apart?: Apart,
) {
  switch (name) {
    case "heading":
      return [lotHeading(book, record)].filter((heading) => heading !== null);
    case "description":
      return lotDescription(plan, book, record, apart);
    case "condition":
      return plan ? conditionParagraph(plan, book, record, apart) : [];
  }
}

function deskText(
  name: TextName,
  sentences: (apart?: Apart) => Sentence[],
  record: RecordCopy,
  described: Described | null,
): DeskText {
  // Of what is stopped only its name and caution are said, whatever the desk wrote, and of what went home only that.
  const isSilenced =
    (name !== "heading" && isStopped(record)) || (name === "condition" && isGoneHome(record));
  const versions = isSilenced ? [] : versionsOf(record, name);
  const order = fieldValue(record, `sentence-order/${name}`) ?? [];
  const whole = isSilenced ? "" : (fieldValue(record, TYPED_WHOLE[name])?.trim() ?? "");
  const joined = sentences();
  const recorded = { joined, parted: versions.length ? sentences(apartOf(versions)) : joined, described };
  const lines = inOrder(linesOf(recorded, versions), order);
  // What the desk adds may be what the record says: it is printed once.
  const words = new Set(lines.map((line) => line.words).filter(Boolean));
  return { name, lines, whole, words: whole || [...words].join(" "), isOrdered: order.length > 0 };
}

/** Each key by the version that speaks of it, so that nothing else is joined with what the desk has written of. */
export function apartOf(versions: SentenceVersion[]): Apart {
  return (key) => versions.find((version) => speaksOf(version, key))?.sentence ?? "";
}

/** What the desk has written of an item and the record does not speak against: none of what is stopped. */
export function standingVersions(said: Described): SentenceVersion[] {
  const described = { ...said, record: asOffered(said.record) };
  if (isStopped(described.record)) return [];
  return TEXTS.flatMap((text) => {
    const versions = versionsOf(described.record, text);
    return versions.filter((version) => !isOvertaken(described, version, versions));
  });
}

function versionsOf(record: RecordCopy, text: TextName): SentenceVersion[] {
  return listed(record, "sentences/")
    .map(({ value }) => value)
    .filter((version) => version.text === text && version.version !== "as-recorded")
    .filter(({ sentence }) => !sentence.startsWith(HELD)) // of a caution nothing is struck, nor put otherwise
    .sort((a, b) => a.sentence.localeCompare(b.sentence));
}

export function covers(version: SentenceVersion, { keys }: Sentence) {
  return keys.some((key) => speaksOf(version, key));
}

/** What speaks of all sizes speaks of each. */
function speaksOf({ speaks_of }: SentenceVersion, key: string) {
  return speaks_of.some((known) => key === known || key.startsWith(`${known}/`));
}

/** A version stands where the first sentence stood that it covers; one that covers none, among its like. */
function linesOf(recorded: Recorded, versions: SentenceVersion[]): Line[] {
  const lines: Line[] = [];
  const placed = new Set<SentenceVersion>();
  for (const sentence of recorded.parted) {
    const covering = versions.filter((version) => covers(version, sentence));
    if (!covering.length) lines.push(asRecorded(sentence));
    for (const version of covering)
      if (!placed.has(version)) lines.push(asWritten(version, versions, recorded));
    for (const version of covering) placed.add(version);
  }
  for (const version of versions) {
    if (placed.has(version) || version.version === "struck") continue;
    const behind = lines.findLastIndex((line) => topicOf(line.sentence) <= topicOf(version.sentence));
    lines.splice(behind + 1, 0, asWritten(version, versions, recorded));
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
  return {
    ...{ sentence, words: recorded.words, recorded: [recorded], beside: [] },
    ...{ version: null, differs: false, fixed },
  };
}

/**
 * What the record says of the same: of what it has come to say with it in one sentence, the whole sentence is shown
 * until somebody has seen it, and the rest is printed by itself.
 */
function asWritten(version: SentenceVersion, versions: SentenceVersion[], recorded: Recorded): Line {
  const own = recorded.parted.filter((sentence) => covers(version, sentence));
  const joined = recorded.joined.filter((sentence) => covers(version, sentence));
  const beside = joined
    .flatMap(({ keys }) => keys)
    .filter((key) => !versions.some((known) => speaksOf(known, key)));
  const now = beside.length ? joined : own;
  const { described } = recorded;
  const differs =
    [now, joined].every((sentences) => asText(sentences) !== version.record_words) ||
    (described !== null && (isTakenTooFar(described, version, versions) || isGraveSince(described, version)));
  const written = version.version === "struck" ? "" : version.words.trim();
  const hasTurned = differs && described !== null && isOvertaken(described, version, versions);
  return {
    sentence: version.sentence,
    words: hasTurned ? asText(own) : written,
    recorded: now,
    beside,
    version,
    differs,
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
export function keysOfLine({ sentence, recorded, beside, version }: Line): string[] {
  const keys = [sentence, ...(version?.speaks_of ?? []), ...recorded.flatMap((sentence) => sentence.keys)];
  return [...new Set(keys)].filter((key) => !beside.includes(key));
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
  return {
    sentence: OWN + id,
    words: "",
    recorded: [],
    beside: [],
    version: null,
    differs: false,
    fixed: false,
  };
}

export function isAdded({ sentence }: Line) {
  return sentence.startsWith(OWN);
}

/**
 * The order of a text after one of its lines was moved up or down by one: by all that the lines speak of, since the
 * record may come to say in two sentences what was one, or take back what the first of its keys spoke of.
 */
export function orderAfter(lines: Line[], line: Line, by: -1 | 1): string[] {
  const order = [...lines];
  const at = order.findIndex(({ sentence }) => sentence === line.sentence);
  const to = at + by;
  if (at >= 0 && to >= 0 && to < order.length) order.splice(to, 0, ...order.splice(at, 1));
  return [...new Set(order.flatMap(keysOfLine))].slice(0, MOST_KEYS);
}
