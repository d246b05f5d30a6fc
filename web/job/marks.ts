/** Marks in print: what stands there, where and how, and what is held of it. */

import { withArticle } from "./articles.ts";
import { listInWords, timesInWords } from "./english.ts";
import type { Apart } from "./families.ts";
import type { MarkValue } from "./fields.ts";
import { type Sentence, sentence, withoutStop } from "./sentences.ts";
import { isOfThem, withSmallLetter } from "./typed_names.ts";
import type { MarkPlaces, Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy, isContested, listed, saidOf } from "./values.ts";

const LABEL = "label";
const PRINTED = "printed";
const SIGNATURE = "signature";
const NAMING = "naming";
/** Of plans that were read before they had any. */
const NO_PLACES = { begin: [], corners: [], within: [], determiners: [] } as MarkPlaces;
/** What is said of one thing, and of several. */
const IT = { bears: "it bears", has: "it has" };
const THEY = { bears: "they bear", has: "they have" };
/** What nobody wrote with a hand of their own. */
const BY_TOOL = ["printed", "impressed", "struck", "moulded"];

/** Every mark that was not withdrawn; with none, where they were looked for. */
export function markSentences(
  plan: Plan | null,
  book: PlanBook,
  record: RecordCopy,
  apart?: Apart,
): Sentence[] {
  const live = listed(record, "marks/")
    .filter(({ value }) => !value.withdrawn && isThere(value))
    .sort(
      (a, b) =>
        a.value.place.localeCompare(b.value.place) ||
        a.value.text.localeCompare(b.value.text) ||
        a.id.localeCompare(b.id),
    );
  const has = isOfThem(fieldValue(record, "short_description") ?? "", book.print.english) ? THEY : IT;
  const owner = plan?.maker_noun && !plan.maker_noun.includes(" ") ? plan.maker_noun : "maker";
  // Where two makers were named, whose hand it is stays open too.
  const isOpen = isContested(record, "maker");
  const inWords = (value: MarkValue, times?: number) =>
    markInWords(book, value, nounOf(plan, record, value), { ...has, owner, isOpen, times });
  const alike = groupedBy(live, ({ id, value }) => JSON.stringify([inWords(value), apart?.(`marks/${id}`)]));
  const read = [...alike.values()].flatMap((some) => {
    const [first] = some;
    if (!first) return [];
    return [
      sentence(
        inWords(first.value, some.length),
        some.map(({ id }) => `marks/${id}`),
      ),
    ];
  });
  const looked = withoutStop(fieldValue(record, "marks_looked") ?? "");
  if (!read.length && looked && plan?.marks_always)
    return [sentence(notCopied(plan, book, looked), ["marks_looked"])];
  return read.length || !looked
    ? read
    : [
        sentence(
          `no marks found, looked for${placesInWords(book, withSmallLetter(looked, book.print.english))}`,
          ["marks_looked"],
        ),
      ];
}

/** "The address and the signature were looked at and not copied": such things have them, whatever nobody copied. */
function notCopied(plan: Plan, book: PlanBook, typed: string) {
  const places = plan.marks.filter((place) => `, ${typed}, `.includes(`, ${place}, `));
  const isOurs = places.join(", ").length === typed.length;
  if (!isOurs)
    return `what stands${placesInWords(book, withSmallLetter(typed, book.print.english))} was looked at and not copied`;
  const names = listInWords(places.map((place) => `the ${place}`));
  return `${names} ${places.length > 1 ? "were" : "was"} looked at and not copied`;
}

/** Whether any mark is on record; where one is not, `marks_looked` says where they were looked for. */
export function isAnyMark(record: RecordCopy) {
  return listed(record, "marks/").some(({ value }) => !value.withdrawn && isThere(value));
}

/** A mark nobody has written anything of yet is none. */
function isThere({ text, completeness }: MarkValue) {
  return Boolean(text.trim() || completeness);
}

/** A name that is held for the maker's, written where its class is signed, is a signature, whoever wrote it. */
function nounOf(plan: Plan | null, record: RecordCopy, { technique, text, place }: MarkValue) {
  if (technique === LABEL) return "label";
  const where = place.toLowerCase();
  if (plan?.marks_always && where.trim() === ADDRESS) return ADDRESS;
  if (technique === PRINTED && plan?.imprint_at?.some((known) => where.includes(known))) return "imprint";
  // What stands on the edge of a coin, that is named for nobody, is a mark.
  const { state } = fieldValue(record, `zones/${NAMING}`) ?? {};
  const isNamed = state === "clear" || state === "finding";
  if (isNamed && plan?.naming_at?.some((known) => where.includes(known))) return NAMING;
  const makers = saidOf(record, "maker").map(({ value }) => (value ?? "").trim().toLowerCase());
  const isSigned = plan?.zones.some(({ zone }) => zone === "signature");
  const isWritten = !BY_TOOL.includes(technique ?? "");
  // "E M Larch 87" is E. M. Larch's name: by the surname, where that is written whole.
  const written: string[] = text.toLowerCase().match(/[\p{L}’'-]+/gu) ?? [];
  const isMakers = makers.some((maker) => {
    const surname = maker.split(/\s+/).at(-1) ?? "";
    return maker && (text.toLowerCase().includes(maker) || (surname.length > 3 && written.includes(surname)));
  });
  if (isSigned && isWritten && isMakers) return SIGNATURE;
  return plan?.mark_noun ?? "mark";
}

/** What stands where a letter says to whom it goes. */
const ADDRESS = "address";
const ADDRESSED = "addressed";

/** The words of a mark as they are printed: its lines behind one another, in one pair of quotation marks. */
export function markText({ text }: Pick<MarkValue, "text">): string {
  return withoutQuotes(text.trim())
    .split(/\s*\n\s*/)
    .join(" / ");
}

/** What somebody typed in quotation marks is not put into a second pair; what is quoted within is in single ones. */
function withoutQuotes(words: string) {
  const [, inside] = /^[“"]([^“”"]*)[”"]$/.exec(words) ?? [];
  return inside ?? words.replaceAll("“", "‘").replaceAll("”", "’");
}

/**
 * "It bears a label inside: “…”, which is not relied on": the words stand as they are on the thing, line by line. What
 * it bears was judged, or nobody can say whose it is; what nobody judged it has. "Signed" is in our opinion the maker's
 * own hand.
 */
function markInWords(
  book: PlanBook,
  mark: MarkValue,
  what: string,
  { bears, has, owner, isOpen, times = 1 }: typeof IT & { owner: string; isOpen: boolean; times?: number },
) {
  const { english } = book.print;
  const place = placeInWords(book, withSmallLetter(withoutStop(mark.place), english));
  const colour = withSmallLetter(withoutStop(mark.colour).replace(/^in /i, ""), english);
  const technique =
    mark.technique === LABEL
      ? ""
      : book.words.techniques.find((row) => row.technique === mark.technique)?.words;
  const how = [
    [technique, colour && `in ${colour}`].filter(Boolean).join(" "),
    mark.completeness && mark.completeness !== "complete" ? mark.completeness : "",
    times > 1 ? timesInWords(times) : "",
  ].filter(Boolean);
  const isOwn = mark.standing === "makers-own" && !isOpen;
  const begins = {
    "makers-own": `${bears} ${withArticle(what, english)}`,
    borne: `${bears} ${withArticle(what, english)}`,
    "not-relied-on": `${bears} ${withArticle(what, english)}`,
    none: `${has} ${withArticle(what, english)}`,
  }[mark.standing ?? "none"];
  const words = markText(mark);
  const quoted = `“${words}”`;
  const reading = mark.reading.trim() ? `, read as ${withoutStop(mark.reading)}` : "";
  const where = [place, ...how].join(", ");
  if (isOwn && what === SIGNATURE && words) return `signed ${quoted}${where}${reading}`;
  if (what === ADDRESS && words)
    return `${[ADDRESSED, ...how].join(", ")}: ${quoted}${reading}${doubtedOf(mark)}`;
  if (what === NAMING && ["borne", ""].includes(mark.standing ?? "") && words)
    return `named${where}: ${quoted}${reading}`;
  const standing = isOwn ? `, in our opinion the ${owner}'s own` : "";
  const doubted = doubtedOf(mark);
  return `${begins}${where}${words ? `: ${quoted}` : ""}${reading}${standing}${doubted}`;
}

function doubtedOf({ standing }: MarkValue) {
  return standing === "not-relied-on" ? ", which is not relied on" : "";
}

/** A place as it was typed, behind a noun: " on the base", " inside, below the sound-hole", " lower right". */
/** Places that were typed with commas between them, as a list: "on the nape and the shoe soles". */
function placesInWords(book: PlanBook, typed: string) {
  const [first = "", ...others] = typed.split(/, +/);
  const begun = placeInWords(book, first);
  if (!others.length || begun.startsWith(",") || /[;:(]| (?:and|or) /.test(typed))
    return placeInWords(book, typed);
  const { begin, corners, determiners } = book.print.mark_places ?? NO_PLACES;
  const isWhole = (place: string) =>
    [...begin, ...corners, ...determiners].includes(place.split(" ")[0] ?? "");
  const isOn = /^ (?:in|on) the /.test(begun);
  const rest = others.map((place) => (isWhole(place) || !isOn ? place : `the ${place}`));
  return ` ${listInWords([begun.trim(), ...rest])}`;
}

function placeInWords({ print }: PlanBook, typed: string) {
  const { begin, corners, within, determiners } = print.mark_places ?? NO_PLACES;
  if (!typed) return ", place not noted";
  const [opens = ""] = typed.toLowerCase().split(/[\s,;(]/);
  const isOurs = [...begin, ...corners, ...determiners].includes(opens);
  const place = isOurs ? opens + typed.slice(opens.length) : typed;
  const [first = ""] = place.split(/[,;(]/);
  const words = first.trim().split(/\s+/);
  const [one = "", next] = words;
  const isBare = words.every((word) => corners.includes(word));
  if (isBare || (begin.includes(one) && next !== "of")) return ` ${place}`;
  if (!/^[\p{L} '’-]+$/u.test(first)) return `, ${place}`;
  const [noun = ""] = first.trim().split(/ (?:of|at|between|by|near|under) /);
  const prep = within.includes(noun.split(" ").at(-1) ?? "") ? "in" : "on";
  return ` ${prep} ${determiners.includes(one) ? "" : "the "}${place}`;
}
