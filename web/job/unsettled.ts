/**
 * What two tables said otherwise and nobody has settled: the graver reading counts, and nobody is told it as a fact.
 */

import { listInWords } from "./english.ts";
import type { Apart } from "./families.ts";
import type { FindingValue, MarkValue } from "./fields.ts";
import type { Sentence } from "./sentences.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { findingsOn, isContested, saidOf } from "./values.ts";
import { NOT_NOTED } from "./which_piece.ts";
import { firstUpper } from "./words.ts";

const OTHERWISE = "recorded otherwise as well";
/** How whatever is said of it ends: what a sentence has of its own gets no second. */
const UNSETTLED = /\b(?:not|is) settled\b/;
/** What is said of the maker where two were named; it stands in place of that. */
export const NOT_SETTLED = "is not settled";
/** The sentences that speak of all the record, and not of one field: the lights, and the word for the whole. */
const OF_ALL: readonly string[] = ["overall", "lights", "heading"];
/** What the sentence that says what it is tells beside its name. */
const FACTS: Record<string, string> = {
  short_description: "what it is",
  dates: "the date",
  dates_certainty: "the date",
  maker: "the maker",
  maker_certainty: "the maker",
  materials: "what it is made of",
};

/** From the gravest down; what is in no list is between the last and the others. */
const ORDER: Record<string, readonly unknown[]> = {
  maker_certainty: [
    ...["unknown", "region-period", "after", "manner-of", "follower-of", "circle-of", "workshop-of"],
    ...["attributed-to", "by"],
  ],
  dates_certainty: ["not-determined", "possible", "probable"],
  cautions: ["red", "amber", "note"],
  tests: ["no-response", "works-in-part", "not-done", "works"],
  zones: ["not-examined", "not-applicable", "finding", "clear"],
  marks: ["not-relied-on", "borne", undefined, null, "makers-own"],
  origins: [
    ...["married", "associated", "replaced", "later-added", "altered", "refinished", "restored", "repaired"],
    ...["not-determined", "original-probably", "original"],
  ],
  activity: ["Q", "P", "w", "n"],
  certainty: ["certain", "probable", "possible", "not-determined"],
  "check-in": ["not-here", "differs"],
};

type Values = Record<string, unknown>;

/** How grave a value of a field is, for comparing it with another of the same field. */
function gravity(field: string, value: unknown): number[] {
  const [family = ""] = field.split("/");
  const of = (value ?? {}) as Values;
  const rank = (name: string, word: unknown) => {
    const at = ORDER[name]?.indexOf(word) ?? -1;
    return at < 0 ? 0 : 99 - at;
  };
  const isSaid = of.withdrawn ? 0 : 1;
  switch (family) {
    case "findings": {
      const { certainty, severity, activity, ...found } = value as FindingValue;
      const { piece_count, extent_percent, extent_mm, extent_mm_across, extent_count } = found;
      // Of one severity what is surer, on more of them, larger or more often is the graver.
      const extent = [piece_count, extent_percent, extent_mm, extent_mm_across, extent_count];
      return [
        ...[isSaid, certainty === "told" ? 0 : 1, severity, rank("activity", activity)],
        ...[rank("certainty", certainty ?? "certain"), ...extent.map((size) => size ?? 0)],
      ];
    }
    case "zones":
      return [rank(family, of.reason === "not-applicable" ? of.reason : of.state)];
    case "tests":
      return [rank(family, of.result)];
    case "origins":
      return [rank(family, of.origin), of.origin ? 1 : 0];
    case "marks":
      return [isSaid, rank(family, (value as MarkValue).standing)];
    case "cautions":
      return [isSaid, rank(family, of.level)];
    case "check-in":
      return [rank(family, of.state)];
    case "measures":
      return [of.value ? 1 : 0];
    default:
      return typeof value === "object" ? [isSaid] : [rank(family, value), value ? 1 : 0];
  }
}

function isGraver(field: string, value: unknown, than: unknown) {
  const [mine, others] = [gravity(field, value), gravity(field, than)];
  const at = mine.findIndex((one, place) => one !== others[place]);
  return at >= 0 && (mine[at] ?? 0) > (others[at] ?? 0);
}

const known = new WeakMap<RecordCopy, RecordCopy>();

/** The fields of which two things are said; what was decided of a caution has a rule of its own. */
function disputed(record: RecordCopy): string[] {
  const open = (record.disagreements ?? []).filter(({ settled }) => !settled);
  return [...new Set(open.map(({ field }) => field))].filter(
    (name) => !name.startsWith("caution-decisions/"),
  );
}

/** A record with the graver of two readings in force, wherever nobody has settled which is right. */
export function gravestOf(record: RecordCopy): RecordCopy {
  const names = disputed(record);
  if (!names.length) return record;
  const before = known.get(record);
  if (before) return before;
  const fields = { ...record.fields };
  for (const name of names)
    for (const said of saidOf(record, name as "maker"))
      if (!fields[name] || isGraver(name, said.value, fields[name]?.value)) fields[name] = said as FieldValue;
  for (const name of names) if (arePiecesOpen(record, name)) fields[name] = ofOneOfThem(fields[name]);
  const gravest = { ...record, fields };
  known.set(record, gravest);
  known.set(gravest, gravest);
  return gravest;
}

/** What two people said of a finding, each by itself: what is in force may be made of both. */
export function bothSaid({ disagreements }: RecordCopy, name: string): FindingValue[] {
  const open = disagreements.filter(({ field, settled }) => field === name && !settled);
  return open.flatMap(({ kept, other }) => [kept.value, other.value] as FindingValue[]);
}

/** Whether of a finding nothing but the piece is told apart: each who said it named another one. */
export function arePiecesOpen(record: RecordCopy, name: string): boolean {
  if (!name.startsWith("findings/") || !isContested(record, name)) return false;
  const said = bothSaid(record, name);
  const of = (member: "zone" | "term" | "piece") => new Set(said.map((value) => value[member]));
  const isOnOne = ({ piece, piece_count, withdrawn }: FindingValue) =>
    !withdrawn && !piece_count && Boolean(piece) && piece !== NOT_NOTED;
  return of("zone").size === 1 && of("term").size === 1 && of("piece").size > 1 && said.every(isOnOne);
}

/** "One of the two has a chip": which, is not settled. */
function ofOneOfThem(set: FieldValue | undefined): FieldValue {
  const value = { ...(set?.value as FindingValue), piece: null, piece_words: null, piece_count: 1 };
  return { ...(set as FieldValue), value };
}

/** The record as each of two sides has it: all that was kept, and all that was said beside it. */
export function sidesOf(record: RecordCopy): RecordCopy[] {
  if (!disputed(record).length) return [];
  return (["kept", "other"] as const).map((side) => {
    const said = record.disagreements.filter(({ settled }) => !settled);
    const fields = Object.fromEntries(said.map((between) => [between.field, between[side]]));
    return { ...record, fields: { ...record.fields, ...fields }, disagreements: [] };
  });
}

/** The field that a key of a sentence speaks of, such as `sizes/height`; "" where it speaks of none. */
export function fieldOfKey(key: string): string {
  if (OF_ALL.includes(key)) return "";
  return key
    .replace(/^sizes\//, "measures/")
    .replace(/^held\//, "cautions/")
    .replace(/^going-on\/[a-z]\//, "findings/")
    .replace(/^counted\/pieces$/, "pieces")
    .replace(/^(unseen|without|counted|clear|there|uncopied)\//, "zones/");
}

/** Whether anything that a key of a sentence speaks of is not settled; of a zone with members, any of them. */
export function isUnsettled(record: RecordCopy, key: string): boolean {
  const field = fieldOfKey(key);
  return (
    field !== "" &&
    disputed(record).some(
      (name) => name === field || (/^without\//.test(key) && name.startsWith(`${field}/`)),
    )
  );
}

/** What is not settled is joined with nothing else, as what the desk wrote of is not. */
export function apartUnsettled(record: RecordCopy, apart?: Apart): Apart | undefined {
  if (!disputed(record).length) return apart;
  return (key) => (apart?.(key) ?? "") + (isUnsettled(record, key) ? ` ${key}` : "");
}

/** Sentences with a word on what is not settled, each behind what it is said of. */
export function withUnsettled<One extends Sentence>(record: RecordCopy, sentences: One[]): One[] {
  if (!disputed(record).length) return sentences;
  return sentences.map((one) => {
    const open = subjectsOf(record, one);
    return open.length ? { ...one, words: asUnsettled(one.words, open) } : one;
  });
}

function subjectsOf(record: RecordCopy, { words, from, keys }: Sentence): string[] {
  if (keys.some((key) => OF_ALL.includes(key))) return [];
  if (keys.some((key) => isUnsettled(record, key) && !isFoundOn(record, key))) return ["it"];
  // The state of its zone is no matter of a finding; what is held has its own words for two decisions.
  const rests = from.filter((name) => !/^(zones|cautions|caution-decisions)\//.test(name));
  const isNamed = (name: string) => name === "maker" && words.includes(`${NOT_SETTLED}:`);
  const open = rests.filter((name) => isContested(record, name) && !isNamed(name));
  return [...new Set(open.map((name) => (keys.includes("what") && FACTS[name]) || "it"))];
}

/** Whether what is not settled of a zone that is said to be clear is told beside what was found there. */
function isFoundOn(record: RecordCopy, key: string) {
  const [, zone] = /^clear\/(.+)$/.exec(key) ?? [];
  return Boolean(zone) && findingsOn(record, zone ?? "").length > 0;
}

/** The words with that behind them, once. */
export function asUnsettled(words: string, subjects: readonly string[] = ["it"]): string {
  if (UNSETTLED.test(words) && !words.includes(`${NOT_SETTLED}:`)) return words;
  const [was, is] = subjects.length > 1 ? ["were", "are"] : ["was", "is"];
  const open = `${listInWords(subjects)} ${was} ${OTHERWISE}, and ${is} not settled`;
  if (words.endsWith(".")) return `${words.slice(0, -1)}; ${open}.`;
  return `${words} ${firstUpper(open)}.`;
}

export function isToldUnsettled(words: string) {
  return UNSETTLED.test(words);
}
