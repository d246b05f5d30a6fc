/**
 * Dates in the trade's words: the words as typed, the years they cover, and the same said in EDTF.
 *
 * Years are astronomical whole numbers: 1 BC is 0 and 44 BC is -43. An open end is null. Words that can be taken in
 * two ways are asked about, never guessed.
 * Source: EDTF as the Library of Congress specifies it (2019), levels 0 to 2; what the words cover is the house's.
 */

import {
  type Closed,
  centuryIn,
  DateProblem,
  dayIn,
  decadeIn,
  type End,
  endAt,
  FIRST_YEAR,
  LAST_YEAR,
  PART,
  type Span,
  stretchOf,
  yearIn,
  yearWords,
} from "./date_forms.ts";

/** The first and the last. */
export type Years = [number, number];

/** What the house means by its words. */
export interface Conventions {
  /** years on either side */
  circa: number;
  /** 1: the 19th century is 1801 to 1900; 0: it is 1800 to 1899. Its parts move with it */
  century_begins: 0 | 1;
  /** early, mid and late, counted from 1 to 100 */
  century: Record<string, Years>;
  /** early, mid and late, counted from 0 to 9 */
  decade: Record<string, Years>;
  /** whether "after 1891" begins in 1891 */
  after_includes_year: boolean;
  between_the_wars: Years;
  turn_of_the_century: Years;
  /** reigns and styles; none unless the house names them */
  periods: { name: string; from: number; to: number }[];
}

export const DATE_CONVENTIONS: Conventions = {
  circa: 5,
  century_begins: 1,
  century: { early: [1, 30], mid: [40, 60], late: [70, 100] },
  decade: { early: [0, 3], mid: [4, 6], late: [7, 9] },
  after_includes_year: true,
  between_the_wars: [1919, 1939],
  turn_of_the_century: [1890, 1910],
  periods: [],
};

export type DateRead = { words: string; earliest: number | null; latest: number | null; edtf: string };

export type DateReading = { date: DateRead; problem?: undefined } | { date?: undefined; problem: string };

type Form<S extends Span> = (text: string, house: Conventions) => S | null;

const MOST_CHARACTERS = 120;
const ORDINALS = (
  "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth " +
  "sixteenth seventeenth eighteenth nineteenth twentieth twenty-first"
).split(" ");

function notUnderstoodWords(words: string) {
  const example = 'Write it like "circa 1880" or "late 19th century", or give the years.';
  return `"${words.trim()}" was not understood. ${example}`;
}

/** Read a date. A problem is for the person who typed the words: the caller keeps the words and asks for years. */
export function readDate(words: string, conventions: Conventions = DATE_CONVENTIONS): DateReading {
  const text = plain(words);
  if (!text) return { problem: 'Write a date, or "undated".' };
  if (text.length > MOST_CHARACTERS)
    return { problem: "This is too long for a date. Write the date alone, or give the years." };
  try {
    const span = wholeDate(text, conventions);
    if (!span) return { problem: notUnderstoodWords(words) };
    checkOrder(span);
    const earliest = span.from && Math.max(FIRST_YEAR, span.from.year - span.from.margin);
    const latest = span.to && Math.min(LAST_YEAR, span.to.year + span.to.margin);
    return { date: { words, earliest, latest, edtf: edtfOf(span) } };
  } catch (error) {
    if (error instanceof DateProblem) return { problem: error.message };
    throw error;
  }
}

/**
 * The date of two typed years and two switches, with words made for it; both years count as inside.
 * The years are astronomical.
 */
export function dateOf(
  {
    from,
    to,
    about = false,
    probably = false,
  }: { from: number | null; to: number | null; about?: boolean; probably?: boolean },
  conventions: Conventions = DATE_CONVENTIONS,
): DateReading {
  const years = [from, to].filter((year) => year !== null);
  if (years.length === 0) return { problem: "Give the earliest year, the latest year or both." };
  if (!years.every(Number.isInteger)) return { problem: "A year is a whole number. Write it once more." };
  const circa = about ? "circa " : "";
  let core = "";
  if (from === null) core = `not after ${circa}${yearWords(to as number)}`;
  else if (to === null) core = `not before ${circa}${yearWords(from)}`;
  else
    core =
      circa +
      (from === to
        ? yearWords(from)
        : `${yearWords(from)} to ${yearWords(to)}${from < 1 && to >= 1000 ? " AD" : ""}`);
  return readDate((probably ? "probably " : "") + core, conventions);
}

function edtfOf({ from, to, shape, whole }: Span) {
  const sign = (end: End | null) => (end?.about ? (end.unsure ? "%" : "~") : end?.unsure ? "?" : "");
  if (whole) return whole + sign(from);
  if (shape === "stretch" || sign(from) || sign(to)) {
    // A member of a set cannot carry a mark that all readers know, so that a marked set is written as an interval.
    return `${from ? from.code + sign(from) : ".."}/${to ? to.code + sign(to) : ".."}`;
  }
  return `[${from?.code ?? ""}${shape === "either" ? "," : ".."}${to?.code ?? ""}]`;
}

function checkOrder({ from, to }: Span) {
  if (!from || !to) return;
  const backwards =
    from.year === to.year ? from.code.length === to.code.length && from.code > to.code : from.year > to.year;
  if (backwards) throw new DateProblem("This ends before it begins. Write the earlier date first.");
}

/** Lower case, one sign for each thing, no filling words: what the forms below are written for. */
function plain(words: string) {
  const spelled = new RegExp(`\\b(${[...ORDINALS].reverse().join("|")})\\b`, "g");
  return words
    .toLowerCase()
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replace(/\u2019/g, "'")
    .replace(/,/g, " ")
    .replace(/(\d) ?(?:b\.? ?c\.?(?: ?e\.?)?)(?=$|[\s)/?-])/g, "$1 bc")
    .replace(/(\d) ?(?:a\.? ?d\.?|c\.?e\.?)(?=$|[\s)/?-])/g, "$1 ad")
    .replace(/\ba\.?d\.? ?(\d+)/g, "$1 ad")
    .replace(spelled, (word) => `${ORDINALS.indexOf(word) + 1}th`)
    .replace(/\b(\d+)(?:st|nd|rd|th)(?![a-z])/g, "$1th")
    .replace(/(\dth)[ -]?(?:c|cent|centuries|century)\b\.?/g, "$1 century")
    .replace(
      /century ?(b\.?c|a\.?d|c\.?e)\.?(?:e\.?)?(?=$|[\s)/?-])/g,
      (_, era) => `century ${era.startsWith("b") ? "bc" : "ad"}`,
    )
    .replace(/\bmiddle\b/g, "mid")
    .replace(/\b(early|mid|late|pre|post)-/g, "$1 ")
    .replace(/\b(?:the|of)\b/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

function wholeDate(text: string, house: Conventions): Span | null {
  if (/^(?:undated|not dated|no date|n\.? ?d\.?|date unknown|unknown)$/.test(text))
    return { from: null, to: null, shape: "one", whole: "XXXX" };
  if (/^\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}$/.test(text))
    throw new DateProblem(
      "Day and month could be the other way round. Write the month as a word, as in 3 March 1931.",
    );
  return hedged(text, house, (rest) => bounded(rest, house) ?? oneDate(rest, house) ?? ofTwo(rest, house));
}

const HEDGES: [RegExp, "about" | "unsure" | null][] = [
  [/^(?:in or about|circa|about|approximately|approx\.?|around|ca?\.|ca?(?=[ \d]))\s*/, "about"],
  [/^(?:(?:probably|possibly|perhaps|maybe|likely)(?= )|\?)\s*/, "unsure"],
  [/\s*(?:\?|\(\?\))$/, "unsure"],
  [/^(?:dated|made|designed|in) /, null],
];

/** A date with "circa", "probably" and the like around it; said twice they mean the same as once. */
function hedged<S extends Span>(text: string, house: Conventions, inner: Form<S>): S | null {
  const [pattern, mark] = HEDGES.find(([hedge]) => hedge.test(text)) ?? [];
  if (!pattern) return inner(text, house);
  const span = hedged(text.replace(pattern, ""), house, inner);
  if (!span || !mark) return span;
  const margin = mark === "about" ? { margin: house.circa } : {};
  return {
    ...span,
    from: span.from && { ...span.from, [mark]: true, ...margin },
    to: span.to && { ...span.to, [mark]: true, ...margin },
  };
}

/** One side of a longer phrase. */
function side(text: string, house: Conventions): Closed | null {
  return hedged(text, house, oneDate);
}

function oneDate(text: string, house: Conventions): Closed | null {
  return (
    yearIn(text) ?? decadeIn(text, house) ?? centuryIn(text, house) ?? dayIn(text) ?? namedIn(text, house)
  );
}

function namedIn(text: string, house: Conventions): Closed | null {
  if (/^(?:between wars|inter-?war(?: years)?)$/.test(text)) return stretchOf(...house.between_the_wars);
  if (text === "turn century") return stretchOf(...house.turn_of_the_century, true);
  const [, name, years] = /^(.+?)(?: (?:period|era))?(?: \((.+)\))?$/.exec(text) ?? [];
  const period = house.periods.find((period) => plain(period.name) === name);
  if (!period) return null;
  return years ? (side(years, house) ?? ofTwo(years, house)) : stretchOf(period.from, period.to);
}

/** "Before", "after" and their kin. The end they name, and whether the date itself is inside. */
const BOUNDS: [RegExp, "from" | "to", boolean][] = [
  [
    /^(?:not before|not? earlier than|on or after|in or after|from|since) (.+?)(?: on| onwards?)?$/,
    "from",
    true,
  ],
  [/^(.+?)(?: (?:or|and) (?:later|after)| onwards?|\s?\+)$/, "from", true],
  [/^(?:after|post|later than) (.+)$/, "from", false],
  [/^(?:by|not after|not? later than|on or before|in or before|until|up to) (.+)$/, "to", true],
  [/^(.+?) (?:or|and) (?:earlier|before)$/, "to", true],
  [/^(?:before|pre|earlier than|prior to) (.+)$/, "to", false],
];

/** A date that is open at one end. */
function bounded(text: string, house: Conventions): Span | null {
  for (const [pattern, end, inside] of BOUNDS) {
    const found = side(pattern.exec(text)?.[1] ?? "", house);
    if (!found) continue;
    const shape = found.shape === "stretch" ? "stretch" : "within";
    if (end === "from") return { from: inside ? found.from : beyond(found, "to", house), to: null, shape };
    return { from: null, to: inside ? found.to : beyond(found, "from", house), shape };
  }
  return null;
}

/** The nearest year outside: what lies beyond a day or a month may still be in the same year. */
function beyond(span: Closed, end: "from" | "to", house: Conventions): End {
  const withinYear = /\d-\d\d/.test(span.whole ?? "");
  const oneYear = span.shape === "one" && span.from.year === span.to.year;
  const stays = withinYear || (end === "to" && oneYear && house.after_includes_year);
  const year = span[end].year + (stays ? 0 : end === "to" ? 1 : -1);
  return { ...span[end], year, code: endAt(year).code };
}

/** Two dates: from one to the other, between them, or one of them. */
function ofTwo(text: string, house: Conventions): Closed | null {
  const between = /^between (.+?) and (.+)$/.exec(text);
  const either = /^(.+?) or (.+)$/.exec(text);
  const found =
    between ?? either ?? /^(?:from )?(.+?)(?: (?:to|until|till|through) | ?[-/] ?)(.+)$/.exec(text);
  if (!found) return null;
  const [first, last] = sidesOf(found[1] ?? "", found[2] ?? "", house);
  if (!first || !last) return null;
  const years = [first, last].every((end) => end.shape === "one" && end.from.year === end.to.year);
  return {
    from: first.from,
    to: last.to,
    shape: between ? "within" : either ? (years ? "either" : "within") : "stretch",
  };
}

/**
 * Both sides of a phrase, each made whole with what it leaves to the other: "1868-9", "late 18th/early 19th century".
 */
function sidesOf(left: string, right: string, house: Conventions): [Closed | null, Closed | null] {
  const [, core = right, era] = /^(.*?)(?: (bc|ad))?$/.exec(right) ?? [];
  const own = /(bc|ad)$/.exec(left)?.[1];
  if (own === "bc" && !era) throw new DateProblem("Write BC or AD after each date.");
  const short = /^\d{1,2}s?$/.test(core) && !era && /(\d{4})s?$/.exec(left)?.[1];
  const lastDigits = short ? short.slice(0, 4 - core.replace("s", "").length) : "";
  const tail = own && !era && /^\d+$/.test(core) ? ` ${own}` : "";
  const [, counted, rest] = new RegExp(`^(${PART}) (.+)$`).exec(core) ?? [];
  const shared =
    /^\d{1,2}th$/.test(left) && counted?.includes(" ")
      ? [` ${counted.split(" ")[1]} ${rest}`]
      : ["", " century", ` ${rest ?? core}`];
  const ending = era && !own ? ` ${era}` : "";
  const first = shared.reduce((done: Closed | null, more) => done ?? side(left + more + ending, house), null);
  return [first, side(lastDigits + right + tail, house)];
}
