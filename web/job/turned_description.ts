/** Where the record has come to speak against what the desk wrote of what a thing is, its marks and its sizes. */
import type { Described } from "./families.ts";
import type { SentenceVersion } from "./fields.ts";
import { dateWords, makerWords } from "./lot.ts";
import { markText } from "./marks.ts";
import { asText, withoutStop } from "./sentences.ts";
import { sizeSentences } from "./sizes.ts";
import { isKnownTo } from "./turned_trials.ts";
import { fieldValue, listed } from "./values.ts";

/** What turns it into another thing, of another time or by another hand. */
export const OF_WHAT = ["short_description", "dates", "dates_certainty", "maker", "maker_certainty"] as const;
/** Begins of what is said of a maker: a sentence with none of them names nobody. */
const OF_MAKER = /\b(by|attributed to|workshop of|circle of|follower of|in the manner of|after) /;
/** "About 15 cm" is 15.5 cm still. */
const NEAR = 0.1;

/** Whether a thing is another now, of another date or by another hand, than the record said when the desk wrote. */
export function isWhatTurned(described: Described, version: SentenceVersion): boolean {
  const { book, record } = described;
  const { words, record_words: before } = version;
  if (!words.trim() || !before || OF_WHAT.every((field) => isKnownTo(record, version, field))) return false;
  const by = asText(makerWords(book, record).map((part) => ({ ...part, keys: [] })));
  const isOfOther = OF_MAKER.test(before) && (!by || !before.includes(by));
  const dates = dateWords(book, record).map((part) => part.words);
  const name = withoutStop(fieldValue(record, "short_description") ?? "");
  return (
    isOfOther || hasOtherFigures(version, [...dates, name, by].join(" ")) || isOfOtherName(version, name)
  );
}

function isOfOtherName({ words, record_words: before }: SentenceVersion, name: string) {
  const isIn = (some: string, word: string) => some.toLowerCase().includes(word);
  const own = name.toLowerCase().match(/\p{L}{3,}/gu) ?? [];
  return own.length > 0 && !own.some((word) => isIn(words, word) || isIn(before, word));
}

/** Whether a figure that the desk took from the record stands in it no longer. */
function hasOtherFigures({ words, record_words: before }: SentenceVersion, now: string) {
  const figuresOf = (some: string) =>
    (some.replaceAll(/\([^)]*\)/g, "").match(/\d+(?:\.\d+)?/g) ?? []).map(Number);
  const isAmong = (figure: number, some: string) =>
    figuresOf(some).some((other) => Math.abs(other - figure) <= NEAR * Math.abs(other));
  // Of two dates a tenth is far apart: a year is itself.
  const isYear = (figure: number) => figure >= 1000;
  const stands = (figure: number, some: string) =>
    isYear(figure) ? figuresOf(some).includes(figure) : isAmong(figure, some);
  return figuresOf(words).some((figure) => stands(figure, before) && !stands(figure, now));
}

/** Whether a mark was withdrawn, reads otherwise or is held for something else than the record said. */
export function isMarkTurned({ record }: Described, version: SentenceVersion, id: string): boolean {
  const { words, record_words: before } = version;
  const mark = fieldValue(record, `marks/${id}`);
  if (!mark || !words.trim() || !before || isKnownTo(record, version, `marks/${id}`)) return false;
  const isRelied = mark.standing !== "not-relied-on";
  const isOwn = mark.standing === "makers-own";
  return (
    mark.withdrawn ||
    !withoutQuotes(before).includes(withoutQuotes(markText(mark))) ||
    (!isRelied && !before.includes("not relied on")) ||
    isOwn !== /in our opinion/i.test(before)
  );
}

/** Of a mark that is quoted within quotes those are other marks in print than on the thing. */
function withoutQuotes(words: string) {
  return words.replaceAll(/[“”‘’"']/g, "");
}

/** Whether a size that the desk wrote is none that the record has. */
export function isSizeTurned({ plan, book, record }: Described, version: SentenceVersion, id: string) {
  if (id && isKnownTo(record, version, `measures/${id}`)) return false;
  return hasOtherFigures(version, asText(sizeSentences(plan, book, record)));
}

/** Whether what was struck was put in other words since. */
export function isOtherText({ record }: Described, version: SentenceVersion, key: string) {
  if (version.words.trim() || isKnownTo(record, version, key)) return false;
  const now = withoutStop(fieldValue(record, key as "seen_words") ?? "").toLowerCase();
  return now !== "" && !version.record_words.toLowerCase().includes(now.slice(1));
}

/** Whether there is a mark after all. */
export function isMarked({ record }: Described) {
  return listed(record, "marks/").some(({ value }) => !value.withdrawn && value.text.trim());
}
