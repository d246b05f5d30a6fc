/** One date as it is written: a year, a decade, a century or a part of it, a day, a month or a season. */

import type { Conventions, Years } from "./dates.ts";

/** One end of a span: `code` is its EDTF without a mark, `margin` the years circa adds on the outer side. */
export type End = { year: number; code: string; about: boolean; unsure: boolean; margin: number };
/** A stretch of time, one moment within it, one of two, or one date; `whole` is the EDTF of that one date. */
export type Span = {
  from: End | null;
  to: End | null;
  shape: "stretch" | "within" | "either" | "one";
  whole?: string;
};
export type Closed = Span & { from: End; to: End };

export const FIRST_YEAR = -3000;
export const LAST_YEAR = 2100;
const MONTHS = [
  "january",
  "february",
  "march",
  "april",
  "may",
  "june",
  "july",
  "august",
  "september",
  "october",
  "november",
  "december",
];
const SEASONS = ["spring", "summer", "autumn", "winter"];
export const PART = "early|mid|late|[1-4]th quarter|[12]th half|last quarter|last half";

/** The words are no date, or more than one; the message says what to do. */
export class DateProblem extends Error {}

/** An astronomical year for people: 1880, 760 AD, 44 BC. */
export function yearWords(year: number) {
  if (year < 1) return `${1 - year} BC`;
  return year < 1000 ? `${year} AD` : String(year);
}

/** How many days a month has, counted from 1 to 12. */
export function daysIn(year: number, month: number) {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/** An end at a year. */
export function endAt(year: number, code?: string): End {
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    const years = `the years from ${yearWords(FIRST_YEAR)} to ${LAST_YEAR}`;
    throw new DateProblem(`${yearWords(year)} is outside ${years}. Write the year once more.`);
  }
  const digits = String(Math.abs(year)).padStart(4, "0");
  return { year, code: code ?? (year < 0 ? `-${digits}` : digits), about: false, unsure: false, margin: 0 };
}

export function stretchOf(from: number, to: number, about: boolean = false): Closed {
  return { from: { ...endAt(from), about }, to: { ...endAt(to), about }, shape: "stretch" };
}

/** The year that digits and an era name. */
function yearOf(digits: string, era?: string) {
  const year = era === "bc" ? 1 - Number(digits) : Number(digits);
  if (Number(digits) === 0)
    throw new DateProblem("There is no year 0: 1 BC is followed by AD 1. Write the year once more.");
  if (!era && digits.length < 4)
    throw new DateProblem(`Write all four digits of the year, or "${digits} AD" or "${digits} BC".`);
  return endAt(year).year;
}

export function yearIn(text: string): Closed | null {
  const found = /^(\d+)(?: (bc|ad))?$/.exec(text);
  if (!found) return null;
  const end = endAt(yearOf(found[1] ?? "", found[2]));
  return { from: end, to: end, shape: "one", whole: end.code };
}

export function decadeIn(text: string, house: Conventions): Closed | null {
  const found = /^(?:(early|mid|late) )?(\d*0)'?s(?: (bc|ad))?$/.exec(text);
  if (!found) return null;
  const [, part, digits = "", era] = found;
  if (Number(digits) % 100 === 0)
    throw new DateProblem(
      `"${digits}s" may be ten years or a hundred. Write the century, or the years from and to.`,
    );
  const first = era === "bc" ? yearOf(digits, era) - 9 : yearOf(digits, era);
  const [from, to] = (part && house.decade[part]) || [0, 9];
  const span = stretchOf(first + from, first + to, Boolean(part));
  return part || first < 0 ? span : { ...span, shape: "one", whole: `${span.from.code.slice(0, 3)}X` };
}

export function centuryIn(text: string, house: Conventions): Closed | null {
  const found = new RegExp(`^(?:(${PART}) )?(\\d{1,2})th century(?: (bc|ad))?$`).exec(text);
  if (!found) return null;
  const [, part, digits = "", era] = found;
  const number = Number(digits);
  if (number === 0) return null;
  const first = era === "bc" ? 1 - 100 * number : 100 * (number - 1) + house.century_begins;
  const [from, to] = part ? partOf(part, house) : [1, 100];
  return stretchOf(first + from - 1, first + to - 1, part !== undefined && part in house.century);
}

/** Where a part of a century stands, counted from 1 to 100. */
function partOf(part: string, house: Conventions): Years {
  const [which = "", unit] = part.split(" ");
  if (!unit) return house.century[which] as Years;
  const length = unit === "half" ? 50 : 25;
  const last = which === "last" ? 100 : length * Number(which.slice(0, 1));
  return [last - length + 1, last];
}

/** A day, a month or a season. */
export function dayIn(text: string): Closed | null {
  const found = /^(?:(\d{1,2})(?:th)? )?([a-z]{3,9})\.?(?: (\d{1,2})(?:th)?)? (\d{4})$/.exec(text);
  if (!found || (found[1] && found[3])) return null;
  const [, before, name = "", after, digits = ""] = found;
  const day = before ?? after;
  const season = SEASONS.indexOf(name === "fall" ? "autumn" : name) + 21;
  const month =
    MONTHS.findIndex(
      (full) => full === name || full.slice(0, 3) === name || (name === "sept" && full === "september"),
    ) + 1;
  if (season > 20 ? day !== undefined : month === 0) return null;
  const year = yearOf(digits);
  if (day && (Number(day) < 1 || Number(day) > daysIn(year, month)))
    throw new DateProblem(`That month has no day ${Number(day)}. Write the day once more.`);
  const code = [digits, season > 20 ? season : month, ...(day ? [day] : [])]
    .map((part) => String(part).padStart(2, "0"))
    .join("-");
  const end = endAt(year, season > 20 ? undefined : code); // a season stands alone: within an interval its year does
  return { from: end, to: end, shape: "one", whole: code };
}
