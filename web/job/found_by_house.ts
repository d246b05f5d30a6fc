/**
 * What the house found of a thing after its owner had signed for leaving it: pieces that were not there as it was
 * unpacked, and damage. Whoever fetches it reads that before they sign, and signs for nothing that is not here.
 */

import { sameThing } from "./cautions.ts";
import { checksOf, countOf, numbersInWords } from "./compared.ts";
import type { DifferenceValue } from "./fields.ts";
import { wordsInLine } from "./in_line.ts";
import type { DayRecord, FieldValue, ItemRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isLater } from "./with_owner.ts";
import { countWords } from "./words.ts";

/** What was found once, and when and by whom; a line has as much of `said` as there is room for. */
type FoundOnce = { lacks: string; said: string; by: string; set: FieldValue };
export type FoundByHouse = {
  /** How many of its pieces are not here; null if somebody says that one is missing, and not how many. */
  missing: number | null;
  found: FoundOnce[];
};

/** Endings after which it is as it was recorded, all of it. */
export const AS_RECORDED: ReadonlySet<string> = new Set([
  "found",
  "matched",
  "re-tagged",
  "moved",
  "corrected",
]);
/** How a difference of a check-in is worded by the screen that notes it, behind what the thing is called. */
const OF_CHECK_IN = /, not all of it came: | differs from what was recorded of it at the table$/;
const NOT_ALL = ", not all of it came: ";
const COUNTED = /^(\d+) of (\d+) pieces are there$/;

type Noted = { value: DifferenceValue; set: FieldValue };

/** What is noted of a thing and not explained since, of the day's differences. */
function notedOf(item: ItemRecord, day: DayRecord): { open: Noted[]; ended: Noted[] } {
  const ids = new Set(sameThing(item).map(({ record_id }) => record_id));
  const [open, ended]: [Noted[], Noted[]] = [[], []];
  for (const { id, value, set } of listed(day, "differences/")) {
    if (!ids.has(value.thing_id ?? "") || !/^(new-damage|piece-short)$/.test(value.difference)) continue;
    const end = fieldValue(day, `difference-ends/${id}`)?.ended;
    (AS_RECORDED.has(end ?? "") ? ended : open).push({ value, set });
  }
  return { open, ended };
}

/**
 * How many pieces a note of a check-in says are not there: as they were counted, or those it names one by one. Null of
 * what somebody wrote by themselves.
 */
function lackingIn(words: string): number | null {
  const at = words.indexOf(NOT_ALL);
  if (at < 0) return null;
  const named = words.slice(at + NOT_ALL.length);
  if (!named) return 0;
  const [, here, of] = COUNTED.exec(named) ?? [];
  return of ? Number(of) - Number(here) : named.split("; ").length;
}

const MARK = "found by the house";
const ON = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "long", year: "numeric" });

/** "found by the house on 15 March 2026 (Ana Quill, Bram Stout)": by this device's place and clock, as it is read. */
function byWhom(day: DayRecord, { made_by, made_at }: FieldValue, second_by = ""): string {
  const first = fieldValue(day, `people/${made_by}`)?.name ?? "";
  const names = [first, second_by.trim() === first ? "" : second_by.trim()].filter(Boolean).join(", ");
  const moment = Date.parse(made_at);
  const on = Number.isNaN(moment) ? "" : ` on ${ON.format(moment)}`;
  return `${MARK}${on}${names && ` (${names})`}`;
}

function lacks(count: number | null): string {
  if (count === 0) return "";
  return `${count === null ? "a piece" : countWords(count, "piece")} missing`;
}

/**
 * All of it on this day's record; of a thing of which nothing is noted nothing is found, and nothing missing. What a
 * check-in noted as a difference of the day is told once, with what was written beside its pictures.
 */
export function foundByHouse(item: ItemRecord, day: DayRecord): FoundByHouse {
  const { open, ended } = notedOf(item, day);
  const checks = checksOf(item);
  const isOverNow = ({ set }: Noted) =>
    checks.some((check) => check.value.state === "as-recorded" && isLater(check.set, set));
  const ofCheckIn = open.filter((noted) => isOfCheckIn(noted) && !isOverNow(noted));
  const isExplained = !ofCheckIn.length && ended.some(isOfCheckIn);
  const short = ofCheckIn.find(isShort);
  const atCheckIn = checks
    .filter(({ value }) => value.state === "differs" && !isExplained)
    .map(({ tag, value, set }) => {
      const counted = COUNTED.test(value.words) ? value.words : countOf(value);
      const noted = short?.value.words ?? `${NOT_ALL}${counted}`;
      const words = counted === value.words ? "" : wordsInLine(value.words);
      const said = tag && words ? `${numbersInWords(item, [tag])}: ${words}` : words;
      return { set, noted, said, by: byWhom(day, set, value.second_by) };
    });
  const byThemselves = open
    .filter((noted) => (isOfCheckIn(noted) ? ofCheckIn.includes(noted) && !atCheckIn.length : true))
    .map(({ value, set }) => ({
      set,
      noted: isShort({ value }) ? value.words : NOT_ALL,
      said: wordsInLine(value.words.split(NOT_ALL).at(-1)),
      by: byWhom(day, set),
    }));
  const all = [...atCheckIn, ...byThemselves].sort((a, b) => (isLater(a.set, b.set) ? 1 : -1));
  const counts = all.map(({ noted, set }) => (isCountedSince(item, set, noted) ? 0 : lackingIn(noted)));
  const found = all.map(({ noted, ...once }) => ({ ...once, lacks: lacks(lackingIn(noted)) }));
  return { missing: counts.includes(null) ? null : Math.max(0, ...counts.map(Number)), found };
}

/** Whether another count than that of then was said since: it is of what is here. */
function isCountedSince({ fields: { pieces } }: ItemRecord, set: FieldValue, noted: string): boolean {
  const [, , of] = COUNTED.exec(noted.split(NOT_ALL).at(-1) ?? "") ?? [];
  return Boolean(of && pieces && isLater(pieces, set) && pieces.value !== Number(of));
}

const isShort = ({ value }: Pick<Noted, "value">) => value.difference === "piece-short";
const isOfCheckIn = ({ value }: Noted) => OF_CHECK_IN.test(value.words);

/**
 * Each as one part of a line, all of them within `most` letters: first the words of whoever noted it are cut, then the
 * names go, then what has no room is counted.
 */
export function foundInWords({ found }: FoundByHouse, most = Number.POSITIVE_INFINITY): string[] {
  const length = (all: readonly FoundOnce[]) =>
    all.reduce((sum, one) => sum + oneInWords({ ...one, said: "" }).length + 2, 0);
  const isTooLong = length(found) > most;
  const named = isTooLong ? found.map((one) => ({ ...one, by: one.by.replace(/ \(.*\)$/, "") })) : found;
  const more = `more was ${MARK}`;
  let [told, left] = [named, most];
  if (length(told) > most) left -= more.length + 2;
  while (told.length && length(told) > left) told = told.slice(0, -1);
  let room = left - length(told);
  const words = told.map((one) => {
    const said = one.said.length + 2 <= room ? one.said : shorter(one.said, room - 2);
    room -= said ? said.length + 2 : 0;
    return oneInWords({ ...one, said });
  });
  return told.length < found.length ? [...words, more] : words;
}

function oneInWords({ lacks, said, by }: Pick<FoundOnce, "lacks" | "said" | "by">): string {
  return `${[lacks, said].filter(Boolean).join(", ") || "not as it was recorded"}: ${by}`;
}

/** Of fewer letters nobody makes anything. */
const FEWEST = 12;

/** No word is cut. */
function shorter(words: string, most: number): string {
  const cut = words.slice(0, Math.max(0, most - 2)).replace(/\s+\S*$/, "");
  return cut.length < FEWEST ? "" : `${cut} …`;
}
