/**
 * The lot description and its heading, from the record alone. What the owner told, terms, reserve and price never
 * come in: this module does not read them.
 */

import { asOffered } from "./as_offered.ts";
import { namedFor } from "./called.ts";
import { isStopped } from "./cautions.ts";
import { countInWords, listInWords, numberOf, spelled } from "./english.ts";
import { type Apart, type Described, seenFindings } from "./families.ts";
import type { WordsField } from "./fields.ts";
import { isMissing, MISSING } from "./gone.ts";
import { roleInMarks } from "./imprint.ts";
import { planOfKind } from "./kind_of.ts";
import type { MakerCertainty } from "./kinds.ts";
import { countHere, countListedHere, linesListed, listedInWords } from "./listed_pieces.ts";
import { markSentences } from "./marks.ts";
import { notMeasured } from "./not_measured.ts";
import { awaySentences } from "./piece_sentences.ts";
import { backInPart, piecesCounted, SET } from "./pieces.ts";
import { zoneNameOf } from "./places.ts";
import { type Part, type Sentence, sentence, withoutStop } from "./sentences.ts";
import { countKey, countWords, sizeSentences } from "./sizes.ts";
import { DENYING, isCalled } from "./there.ts";
import { nameInWords, withSmallLetter } from "./typed_names.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { apartUnsettled, NOT_SETTLED, withUnsettled } from "./unsettled.ts";
import { fieldValue, groupedBy, isContested, saidOf } from "./values.ts";
import { findingInWords } from "./wording.ts";

/** "Stopper associated" behind a date or a maker would be of those; "with papers" is of the thing. */
const NO_PREPOSITION = /^,(?! (?:with|without|in|on) )/;
const ABOUT = String.raw`(?:circa|ca?\.?|about|around|approx\.?|approximately)`;
/** "c. about 1890" */
const ABOUT_TWICE = new RegExp(`^(${ABOUT}) (?:${ABOUT} )+`, "i");
const ABOUT_ALONE = new RegExp(`^${ABOUT} [^?]+$`, "i");

const LADDER: Partial<Record<MakerCertainty, (name: string) => string>> = {
  by: (name) => `by ${name}`,
  "attributed-to": (name) => `attributed to ${name}`,
  "workshop-of": (name) => `workshop of ${name}`,
  "circle-of": (name) => `circle of ${name}`,
  "follower-of": (name) => `follower of ${name}`,
  "manner-of": (name) => `in the manner of ${name}`,
  after: (name) => `after ${name}`,
};

const NOTHING: Part = { words: "", from: [] };
/** A set that a name counts has no more. */
const MOST_NAMED = 99;

/** The heading: the thing first, then when and by whom. Null if nobody has named it. */
export function lotHeading(book: PlanBook, said: RecordCopy): Sentence | null {
  const record = asOffered(said);
  const name = plainName(book, record);
  if (!name) return null;
  // What is not settled stands in the description, with a word on that.
  const isSettled = ({ from }: Part) => !from.some((field) => isContested(record, field));
  const facts = [...dateWords(book, record), ...makerWords(book, record)].filter(isSettled);
  const { words, from } = named(name, facts);
  const lacking = lackingOf(book, record, name.words);
  return { words: words + lacking.words, from: [...from, ...lacking.from], keys: ["heading"] };
}

/** Of a set that is named by more than are here, how many it lacks: a heading stands alone in a list. */
function lackingOf(book: PlanBook, record: RecordCopy, name: string): Part {
  const named = partsLacking(book, record, name);
  if (named.words) return named;
  const { said, walked } = piecesCounted(record);
  const here = said || walked;
  const [full = 0] = name.split(/[^\p{L}\d-]+/u).flatMap((word) => numberOf(word) ?? []);
  const gone = seenFindings(record).filter(
    ({ value }) =>
      value.zone === SET && value.term === MISSING && (value.certainty ?? "certain") === "certain",
  );
  const counts = gone.map(({ value }) => value.extent_count ?? 0);
  const isOtherwise = counts.every(Boolean) && counts.reduce((sum, one) => sum + one, 0) !== full - here;
  // A larger number in a name is a year or a size.
  if (!gone.length || isOtherwise || !here || full <= here || full > MOST_NAMED) return NOTHING;
  if (isCalled(record, DENYING) || isContested(record, "pieces")) return NOTHING;
  const from = [said ? "pieces" : `zones/${SET}`, ...gone.map(({ id }) => `findings/${id}`)];
  return { words: `, lacking ${countInWords(full - here)}`, from };
}

/** What a thing is called with and has not got any more: "a teapot and cover, lacking the cover". */
function partsLacking(house: PlanBook, record: RecordCopy, name: string): Part {
  if (isCalled(record, DENYING)) return NOTHING;
  const book = namedFor(house, record);
  const gone = seenFindings(record).filter(
    ({ value: { zone, term, certainty } }) =>
      term === MISSING && (certainty ?? "certain") === "certain" && isMissing({ book, record }, zone),
  );
  const parts = gone.flatMap(({ id, value: { zone } }) => {
    const { one, many } = zoneNameOf(book, zone);
    const isNamed = (noun: string) =>
      new RegExp(`\\b(?:and|with|in) (?:[^ ,]+ )?${noun}(?![\\w-])`, "i").test(name);
    const words = [one, many ?? one].find(isNamed);
    return words ? [{ words: `the ${words}`, from: [`findings/${id}`] }] : [];
  });
  if (!parts.length) return NOTHING;
  const words = listInWords([...new Set(parts.map((part) => part.words))]);
  return { words: `, lacking ${words}`, from: parts.flatMap(({ from }) => from) };
}

/** The description, sentence by sentence. */
export function lotDescription(
  plan: Plan | null,
  book: PlanBook,
  said: RecordCopy,
  written?: Apart,
): Sentence[] {
  const record = asOffered(said);
  const apart = apartUnsettled(record, written);
  const sentences = descriptionOf(plan, book, record, apart);
  // Of what is stopped nobody is told how it lay, nor anything else that was seen of it.
  return withUnsettled(record, isStopped(record) ? sentences.slice(0, 1) : sentences);
}

function descriptionOf(plan: Plan | null, book: PlanBook, record: RecordCopy, apart?: Apart): Sentence[] {
  const name = plainName(book, record);
  if (!name) return [];
  const unsettled = makersUnsettled(plan, book, record);
  const whole = named(name, [...dateWords(book, record), ...makerWords(book, record)]);
  const lacking = lackingOf(book, record, name.words);
  const { words: what, from: facts } = {
    words: whole.words + lacking.words,
    from: [...whole.from, ...lacking.from],
  };
  const [of] = within(book, materialsBeyond(record, name.words));
  const all = of ? withMaterials(book, what, of.words) : what;
  return [
    sentence(
      [all, ...unsettled.map(({ words }) => words)].join("; "),
      [...facts, ...(of?.from ?? []), ...unsettled.flatMap(({ from }) => from)],
      ["what"],
    ),
    ...linesOf(record, "seen_words"),
    ...opinionSentences(book, record),
    ...colours(book, record),
    ...(fieldValue(record, "maker_certainty") === "unknown"
      ? [sentence(`${plan?.maker_noun ?? "maker"} not determined`, ["maker_certainty"])]
      : []),
    ...(fieldValue(record, "dates_certainty") === "not-determined"
      ? [sentence("date not determined", ["dates_certainty"])]
      : []),
    ...markSentences(plan && planOfKind(plan, record), book, record, apart),
    ...awaySentences({ record }),
    ...piecesSentence(record, name.words),
    ...listedInOne("counted: ", counts(plan, book, record, name.words), countKey, apart),
    ...sizeSentences(plan, book, record, { of: "lot", apart }),
    ...notMeasured(plan, record),
  ];
}

/**
 * A name with when and by whom behind what the thing is; what else was typed of it stands by itself behind them, but
 * for what it comes with: "A violin, circa 1900; bears label". What is listed to its end is all of the thing: "A cup,
 * saucer and plate, circa 1900".
 */
function named(name: Part, facts: Part[]): Part {
  const [, begins = name.words, rest = ""] =
    /^((?:[^,;:“"]|“[^”]*”|"[^"]*"|[,;:](?! ))+)([,;:] .*)$/.exec(name.words) ?? [];
  const isList =
    /[,;] (and|or|&) /.test(rest) ||
    / (and|or|&) /.test(rest.split(/[,;] /)[1] ?? "") ||
    /, [^,;]* (and|&) /.test(rest);
  if (!rest || isList || !facts.length) return joined([name, ...facts]);
  const { words, from } = joined([{ ...name, words: begins }, ...facts]);
  return { words: words + rest.replace(NO_PREPOSITION, ";"), from };
}

/**
 * Behind a maker's name or a date, a material by a comma would be another one, or as old as that is; and of several
 * the first would be what the thing is. What the eye alone cannot tell, such as silver, stands as it was seen.
 */
function withMaterials({ print }: PlanBook, what: string, materials: string) {
  const plain = ` ${materials.toLowerCase().replaceAll(/[^\p{L}-]+/gu, " ")} `;
  const isByEye = print.english.by_eye?.some((name) => plain.includes(` ${name} `));
  if (isByEye) return `${what}; materials as seen: ${materials.replaceAll(";", ",")}`;
  if (/[,;] /.test(what) || /, | and /.test(materials)) return `${what}; ${materials.replaceAll(";", ",")}`;
  return `${what}, ${materials}`;
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

/**
 * What its pieces are: "The fourteen pieces: two chisels, a plane and eleven more". Where more are listed than were
 * counted, both numbers stand, since nobody knows which is right.
 */
function piecesSentence(record: RecordCopy, name: string): Sentence[] {
  const lines = linesListed(record);
  if (!lines.length) return [];
  const said = countHere(record);
  const sum = countListedHere(record);
  if (!sum) return [];
  const all = wordsIn(name).includes(spelled(said)) ? spelled(said) : countInWords(said);
  const begins = said > 1 && sum <= said ? `the ${all} pieces` : "its pieces";
  const over =
    said > 1 && sum > said ? `; counted as ${countInWords(said)}, listed as ${countInWords(sum)}` : "";
  const from = [...(said ? ["pieces"] : []), ...lines.map(({ id }) => `listed/${id}`)];
  return [sentence(`${begins}: ${listedInWords(record)}${over}`, from, ["listed"])];
}

/** What was counted on the walk, and the pieces of a set where neither that nor its name says how many they are. */
function counts(plan: Plan | null, book: PlanBook, record: RecordCopy, name: string): Part[] {
  const named = namedFor(book, record);
  const pieces = fieldValue(record, "pieces") ?? 0;
  const onWalk = fieldValue(record, `zones/${SET}`)?.count ?? 0;
  const [one = "piece", several = "pieces"] = zoneNameOf(named, SET).counted ?? [];
  const walked = countWords(plan, named, record).flatMap((part) => {
    if (plan && part.from.some((field) => isCountLacking({ plan, book: named, record }, field))) return [];
    if (!part.from.includes(`zones/${SET}`)) return [part];
    // The walk may have been after some went back.
    const agrees = !pieces || pieces === onWalk || pieces === onWalk + backInPart(record);
    // "Three volumes. Counted: three volumes."
    if (isWithin([spelled(onWalk), several], wordsIn(name)) && agrees) return [];
    if (agrees) return [part];
    const words = `${countInWords(pieces)} ${pieces === 1 ? one : several}; another count gave ${countInWords(onWalk)}`;
    return [{ words, from: [...part.from, "pieces"] }];
  });
  const said = wordsIn(name);
  const names = [String(pieces), spelled(pieces), ...(pieces === 2 ? ["pair"] : [])];
  const isSaid = names.some((word) => said.includes(word)) || linesListed(record).length > 0;
  if (pieces < 2 || isSaid || onWalk) return walked;
  return [{ words: `${countInWords(pieces)} ${several}`, from: ["pieces"] }, ...walked];
}

/** Whether "one of the nine drawers is missing" has the count: beside it nine that were counted would be there. */
function isCountLacking(described: Described, field: string) {
  const count = countInWords(fieldValue(described.record, field as `zones/${string}`)?.count ?? 0);
  const isOfAll = (words: string) => words.includes(` of the ${count} `) || /^(?:both|all) /i.test(words);
  return seenFindings(described.record).some(
    ({ value }) =>
      `zones/${value.zone}` === field &&
      value.term === MISSING &&
      Boolean(value.extent_count) &&
      isOfAll(findingInWords(described, value)),
  );
}

/** What it is, with its article. */
function plainName(book: PlanBook, record: RecordCopy): Part | null {
  const name = withoutStop(fieldValue(record, "short_description") ?? "").replace(/[\s,;:]+$/, "");
  return name ? { words: nameInWords(name, book.print.english), from: ["short_description"] } : null;
}

/** A field of words, without the stop at its end. */
function wordsOf(record: RecordCopy, field: WordsField): Part[] {
  const words = withoutStop(fieldValue(record, field) ?? "");
  return words ? [{ words, from: [field] }] : [];
}

/** What was typed in lines that each end as a sentence does is as many sentences; other lines run on. */
function linesOf(record: RecordCopy, field: WordsField): Sentence[] {
  const lines = (fieldValue(record, field) ?? "").split(/(?<=[.!?])\s*\n\s*/).map(withoutStop);
  const words = lines.filter(Boolean).map((line) => sentence(line, []).words);
  return words.length ? [sentence(words.join(" "), [field])] : [];
}

/** What was concluded is an opinion, and is printed as one. */
export function opinionSentences(book: PlanBook, record: RecordCopy): Sentence[] {
  if (isContested(record, "concluded_words")) return opinionsApart(book, record);
  return linesOf(record, "concluded_words").map(({ words, from }) => {
    if (/^in our opinion\b/i.test(words)) return sentence(words, from);
    return sentence(`in our opinion: ${withSmallLetter(words, book.print.english, true)}`, from);
  });
}

/** Of two opinions neither is printed as the house's. */
function opinionsApart(book: PlanBook, record: RecordCopy): Sentence[] {
  const words = saidOf(record, "concluded_words").map(({ value }) =>
    withoutStop(value ?? "").replace(/^in our opinion[,:]? ?/i, ""),
  );
  const each = [...new Set(words)]
    .filter(Boolean)
    .map((one) => withSmallLetter(one, book.print.english, true));
  const all = `our opinions differ, and it is not settled which holds: ${each.join("; or ")}`;
  return each.length > 1 ? [sentence(all, ["concluded_words"])] : [];
}

/** What says how the material before it is, and is none itself: "white metal, marked", "white metal, not tested". */
const SAID_OF =
  /^(?:(?:not|no|without|un)\b.*|\p{L}+ly \p{L}+ed|\p{L}*[bcdfghklmnprstvwxyz]ed|gilt|wrought|cast|cut)$/iu;

/** Of the materials those that the name has not said: a bone china teapot is of enamels and gilding, too. */
function materialsBeyond(record: RecordCopy, name: string): Part[] {
  const named = wordsIn(name);
  return wordsOf(record, "materials").flatMap(({ words, from }) => {
    const beyond = words
      .split(/[,;]\s*(?:(?:and|&)\s+)?/)
      .filter((material) => !isWithin(wordsIn(material), named))
      .map((material) => onWhat(material, named));
    // "Silver, bronze and ribbon": but behind "leather and wire" a second "and" would be one too many.
    const list =
      beyond.some((material) => / (and|or) /.test(material)) ||
      words.includes(";") ||
      beyond.slice(1).some((material) => SAID_OF.test(material))
        ? beyond.join(", ")
        : listInWords(beyond);
    return list ? [{ words: list, from }] : [];
  });
}

/** Of an etching "etching on laid paper" says "on laid paper" alone. */
function onWhat(material: string, named: string[]) {
  const [, noun = "", on] = /^(\S+) (on .+)$/.exec(material) ?? [];
  return on && named.includes(noun.toLowerCase()) ? on : material;
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
  return parts.map((part) => ({ ...part, words: withSmallLetter(part.words, book.print.english, true) }));
}

/** The date with its hedge; none while nobody gave one, or it could not be determined. */
export function dateWords(book: PlanBook, record: RecordCopy): Part[] {
  const words = dateAsTyped(book, fieldValue(record, "dates")?.words ?? "");
  const certainty = fieldValue(record, "dates_certainty");
  if (!words || certainty === "not-determined" || isUnknown(book, words)) return [];
  const hedge = certainty === "probable" ? "probably " : certainty === "possible" ? "possibly " : "";
  const from = ["dates", ...(certainty ? ["dates_certainty"] : [])];
  // "Circa" is about what "probably" would be; what is only possible is less than that.
  const isAbout = hedge === "possibly " && ABOUT_ALONE.test(words);
  return [{ words: isHedged(book, words) && !isAbout ? words : hedge + words, from }];
}

/** Words that only begin a date have a small letter, and of two that both say "about" the first is enough. */
function dateAsTyped(book: PlanBook, typed: string) {
  const { hedges, date_words = [] } = book.print.english;
  const words = typed.trim().replace(ABOUT_TWICE, "$1 ");
  const [begin = ""] = words.toLowerCase().split(/[\s-]|(?=\d)/);
  return [...hedges, ...date_words].includes(begin) ? words.charAt(0).toLowerCase() + words.slice(1) : words;
}

/** One hedge to a statement: words that have one get no other. The c. of "18th c." is a century. */
function isHedged(book: PlanBook, words: string) {
  const { hedges } = book.print.english;
  const typed = words
    .toLowerCase()
    .replace(/(\d(?:st|nd|rd|th)) c(\.|\b)/g, "$1")
    .split(/[\s,()-]+/);
  return words.includes("?") || typed.some((word) => hedges.includes(word.replace(/\d.*$/, "")));
}

/** Letters are from somebody, and a letter rack is by its maker. */
const SENT = new RegExp(
  "(?:^|\\b(?:an?|of) |^[\\p{L}]+ )(?:letters?|correspondence|postcards?|telegrams?)" +
    "(?=$|[,;:]| (?:and|from|in|of|to|with)\\b)",
  "iu",
);

/**
 * A name is printed only with its rung of the ladder; one that was typed with a rung keeps that, and gets no other.
 */
export function makerWords(book: PlanBook, record: RecordCopy): Part[] {
  const typed = withoutStop(fieldValue(record, "maker") ?? "").replace(/^by /i, "");
  const name = typed.replace(/^The(?= )/, "the");
  const certainty = fieldValue(record, "maker_certainty") ?? "unknown"; // which has no rung
  const isAsTyped = certainty === "region-period" || isOnLadder(name) || isBorne(book, name);
  const rung = isAsTyped ? asItStands : LADDER[certainty];
  if (!name || !rung || isUnknown(book, name)) return [];
  if (namesUnsettled(record).length > 1) return [];
  const role = !isAsTyped && certainty === "by" ? roleInMarks(record, name) : null;
  const isFrom = !isAsTyped && certainty === "by" && SENT.test(fieldValue(record, "short_description") ?? "");
  return [
    {
      words: role?.words ?? (isFrom ? `from ${name}` : rung(name)),
      from: ["maker", "maker_certainty", ...(role?.from ?? [])],
    },
  ];
}

/** The names that were given for who made it, where nobody has settled which it is. */
function namesUnsettled(record: RecordCopy): string[] {
  if (!isContested(record, "maker")) return [];
  const names = saidOf(record, "maker").map(({ value }) => withoutStop(value ?? "").replace(/^by /i, ""));
  return [...new Set(names.filter(Boolean))].sort();
}

/** "The maker is not settled: A, or B": of two names neither is printed as if it were known, nor on a rung. */
export function makersUnsettled(plan: Plan | null, book: PlanBook, record: RecordCopy): Part[] {
  const names = namesUnsettled(record);
  const certainty = fieldValue(record, "maker_certainty") ?? "unknown";
  if (names.length < 2 || certainty === "unknown") return [];
  const isNobody = (name: string) => isUnknown(book, name);
  const rung = LADDER[certainty] ?? asItStands;
  const given = names.map((name) =>
    isNobody(name) || certainty === "by" || isOnLadder(name) ? name : rung(name),
  );
  return [
    {
      words: `the ${plan?.maker_noun ?? "maker"} ${NOT_SETTLED}: ${given.join(", or ")}`,
      from: ["maker", "maker_certainty"],
    },
  ];
}

/** "Not known", as it is typed of who made a thing, or when. */
function isUnknown({ print }: PlanBook, words: string) {
  return Boolean(print.english.nobody?.includes(words.toLowerCase()));
}

/** "Marked T" is what a thing bears, and nobody by whom it is. */
function isBorne({ print }: PlanBook, name: string) {
  return Boolean(print.english.borne?.includes(name.split(" ")[0]?.toLowerCase() ?? ""));
}

function asItStands(name: string) {
  return name;
}

function isOnLadder(name: string) {
  const begins = Object.values(LADDER).map((rung) => rung("").toLowerCase());
  return begins.some((rung) => name.toLowerCase().startsWith(rung));
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
