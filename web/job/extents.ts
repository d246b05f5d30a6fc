/**
 * How large a fault is, over how much of its zone and how often: "of 18 mm", "over about 15 per cent", "in two places".
 */

import { countInWords, timesInWords } from "./english.ts";
import { WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { sideInWords } from "./places.ts";
import type { PlanBook, Term } from "./types.ts";

/** Of the whole: "refinished throughout"; what is rebound is so or not. */
export function throughout({ extents }: Term) {
  return extents.includes("%") ? " throughout" : "";
}

/** How often, where the count is not that of what the clause speaks of. */
export function oftenOf({ times }: Term, { extent_count: count, note }: FindingValue) {
  if (!count) return "";
  // "in two places: two claws" would count them twice.
  const [begins = ""] = note.trim().toLowerCase().split(/\s/);
  if (!times && [countInWords(count), String(count)].includes(begins)) return "";
  if (times) return timesInWords(count);
  return `in ${countInWords(count)} ${count === 1 ? "place" : "places"}`;
}

/** "Loss of about 10 per cent of the plating", where the noun names the zone that it is a share of. */
export function shareOfNamed(thing: string, { extent_percent: share, zone }: FindingValue) {
  if (!share || share === 100 || zone === WHOLE) return thing;
  const [, begin, of, rest] =
    /^(.*\bloss of )(\S+) over about \d+ per cent((?: over |, ).*)?$/.exec(thing) ?? [];
  return of ? `${begin}about ${share} per cent of the ${of}${rest ?? ""}` : thing;
}

export function shareOf(percent: number) {
  return percent === 100 ? "all over" : `over about ${percent} per cent`;
}

/** Slight is said of what was called so and has no measure. */
export function isSlight(finding: FindingValue) {
  const { extent_mm, extent_percent, extent_count, extent_words } = finding;
  const isCounted = (extent_count ?? 0) > 1;
  return finding.severity === 1 && !(extent_mm || extent_percent || isCounted || extent_words);
}

/** "of 18 mm", "over 9 x 6 mm", "of up to 22 mm"; nothing if nobody measured. */
export function measureOf({ extent_mm, extent_mm_across, extent_count }: FindingValue, before: string) {
  if (!extent_mm) return "";
  const upTo = (extent_count ?? 0) > 1 ? "up to " : "";
  if (!extent_mm_across) return `${before} ${upTo}${faultSize(extent_mm)}`;
  const both =
    extent_mm < 100 && extent_mm_across < 100
      ? `${extent_mm} x ${extent_mm_across} mm`
      : `${centimetres(extent_mm)} x ${centimetres(extent_mm_across)} cm`;
  return `${before === "of" ? "of" : "over"} ${upTo}${both}`;
}

/** The size of a fault: millimetres to 99, centimetres from there. */
export function faultSize(mm: number) {
  return mm < 100 ? `${mm} mm` : `${centimetres(mm)} cm`;
}

function centimetres(mm: number) {
  return (Math.round(mm) / 10).toFixed(1);
}

export function sides(book: PlanBook, { side, zone }: FindingValue) {
  return side && !zone.endsWith(`/${side}`) ? [sideInWords(book, side)] : [];
}

export function extentWords(book: PlanBook, { extent_words }: FindingValue) {
  const words = extent_words?.trim();
  if (!words) return [];
  return [book.words.extents.find((row) => row.words === words)?.print ?? words];
}
