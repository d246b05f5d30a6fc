/**
 * The part of its zone that a note names, "the mainspring" of a movement, and what the parts of a zone are called.
 */

import { withArticle } from "./articles.ts";
import { countInWords, numberOf } from "./english.ts";
import { type Described, termOf, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { onlyOne, someOf } from "./how_many.ts";
import { namedByNote } from "./lost.ts";
import {
  isNameOfThing,
  isOfAnother,
  isPartNoted,
  namedInNote,
  shareAWord,
  thingNoted,
} from "./one_of_them.ts";
import { tellsOfPart } from "./part_told.ts";
import { nounOf, type Place, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { isOfThem } from "./typed_names.ts";
import type { PlanBook, Term, ZoneName } from "./types.ts";

export const LEAF = /^(leaf|leaves)\b/;
export const REPLACED = "replaced-part";
/** Where another thing stands than the first. */
export const OF_ANOTHERS = [REPLACED, "associated-part"];

/** Whether what a finding changed is a part of its zone by its note: the rest of the movement is what it was. */
export function isOfNamedPart(described: Described, finding: FindingValue) {
  const term = termOf(described.book, finding.term);
  return Boolean(term && (isNamedPart(described, term, finding) || isToldInPart(described, term, finding)));
}

/** Whether its note tells of a part, though not by a name alone: "mainspring, replaced in 2021, with bill". */
function isToldInPart(described: Described, { term, part_named }: Term, finding: FindingValue) {
  const { zone, note, extent_mm, extent_percent } = finding;
  const isSized = extent_mm || extent_percent || namedByNote(described, finding);
  return part_named && OF_ANOTHERS.includes(term) && !isSized && tellsOfPart(described, zone, note);
}

/** What says of a part how the one is that stands there now, and not which part it is. */
const NOW = /^(?:newer|new|modern|later|recent|replacement|reproduction|repro|plastic|older|old) /i;
const NOW_ALONE = new RegExp(`, ?(?:an? )?(${NOW.source.slice(1, -1)})$`, "i");

/**
 * The part that a note names, and what it says beside that: of "new mainspring" and "the mainspring, new" it is the
 * mainspring that is replaced, and not the new one.
 */
function partNoted({ term, note }: Pick<FindingValue, "term" | "note">): { name: string; rest: string } {
  const typed = note.trim().replace(/\.$/, "");
  if (!OF_ANOTHERS.includes(term)) return { name: typed, rest: "" };
  const [, behind] = NOW_ALONE.exec(typed) ?? [];
  if (behind) return { name: typed.replace(NOW_ALONE, ""), rest: behind };
  const bare = typed.replace(/^(?:an?|the|its) /i, "");
  return NOW.test(bare) ? { name: bare.replace(NOW, ""), rest: typed } : { name: typed, rest: "" };
}

/** Whether a note names a part of what it is on, by the house's list: "the mainspring" of a movement is replaced. */
export function isNamedPart(described: Described, term: Term, finding: FindingValue) {
  const { zone, extent_mm, extent_percent } = finding;
  const { name: note, rest } = partNoted(finding);
  const { parts = [] } = described.book.print.english;
  const isWhole = extent_mm || extent_percent || namedByNote(described, finding);
  if (!term.part_named || isWhole) return false;
  // A boot button is what an eye was replaced by.
  if (term.term === REPLACED && !rest && /^an? /i.test(note.trim())) return false;
  return isPartNoted(described, zoneNameOf(described.book, zoneOf(zone)), zone, note, parts);
}

/**
 * "The mainspring of the movement", "the bottom board of one drawer": by its name, with what else its note says. What
 * its note tells in other words is "a part of the movement", and all of the note stands behind it.
 */
export function partOfIt(
  described: Described,
  term: Term | undefined,
  finding: FindingValue,
  zones: readonly string[],
): (Place & { rest: string }) | null {
  const { english } = described.book.print;
  const { zone, note } = finding;
  const zoneName = zoneNameOf(described.book, zoneOf(zone));
  if (!term || zone === WHOLE || zoneName.tally) return null;
  const isOfOne = zones.length === 1 && (finding.extent_count ?? 1) <= 1;
  if (!isOfOne || !isNamedPart(described, term, finding)) {
    if (isNamedPart(described, term, finding) || !isToldInPart(described, term, finding)) return null;
    return { words: `a part of ${thoseOf(described, finding, zones)}`, many: false, rest: note };
  }
  const { name, rest } = partNoted(finding);
  const typed = name.replace(/^(?:the|an?|its) /i, "");
  const [first = ""] = typed.split(" ");
  const isNumber = (numberOf(first) ?? 0) > 0;
  // "The key" is that of one of the locks.
  const isOfSingle = typed !== name && !isNumber;
  return {
    words: `${isNumber ? "" : "the "}${typed} of ${thoseOf(described, finding, zones, isOfSingle)}`,
    many: / and /.test(typed) || isOfThem(typed, english),
    rest,
  };
}

/** What a part is of: the movement, one or more drawers, one drawer. */
function thoseOf(
  described: Described,
  finding: FindingValue,
  zones: readonly string[],
  isOfSingle: boolean = false,
) {
  const { plan, book, record } = described;
  const { zone, extent_count: count } = finding;
  const name = zoneNameOf(book, zoneOf(zone));
  const isOfSome = name.plural && !name.together && !zone.includes("/") && !onlyOne(described, finding);
  if (!isOfSome || zones.length > 1) return placesOf(plan, book, [...zones]).words;
  if (count) return `${countInWords(count, true)} ${count > 1 ? nounOf(name, 2) : name.one}`;
  return isOfSingle ? withArticle(name.one, book.print.english) : `${someOf(record)} ${nounOf(name, 2)}`;
}

/** Whether a note names what of it is so: "the hammer" of the striking work. */
export function isOfPart(described: Described, name: ZoneName, finding: FindingValue) {
  if (isOfAnother(described, name, finding)) return true;
  const counted = thingNoted(finding.note)?.last;
  const last = counted ?? namedInNote(finding.note).at(-1) ?? "";
  return (
    (counted !== undefined || isNameOfThing(finding.note)) &&
    !shareAWord(nounOf(name, 1), last) &&
    !shareAWord(nounOf(name, 2), last)
  );
}

/** A part of what has a name for its parts is called by that: a pane of the glazing, a volume of a set of books. */
export function partCalled(words: string, { part, tally, counted }: ZoneName): string {
  const [one, many] = part ?? (tally ? counted : null) ?? ["part", "parts"];
  return words.replace(/\bparts\b/, many).replace(/\bpart\b/, one);
}

export function withPartOf(
  book: PlanBook,
  term: Term | undefined,
  { zone, note }: FindingValue,
): Term | undefined {
  if (!term?.noun) return term;
  const name = zoneNameOf(book, zoneOf(zone));
  // A leaf of what is several is one of those: "one plate missing".
  if (name.plural && LEAF.test(term.noun)) {
    const [one, many] = theOneNoted(name.counted ?? [name.one, nounOf(name, 2)], note);
    return { ...term, noun: term.noun.replace(LEAF, one), plural: term.plural?.replace(LEAF, many) ?? null };
  }
  // A note that names what is missing may name no pane: a lamp is a part of the glazing.
  const [part = ""] = name.part ?? [];
  const isPart =
    !term.note_names || name.plural || !note.trim() || shareAWord(part, note.trim().toLowerCase());
  const of = isPart ? name : { ...name, part: null };
  return { ...term, noun: partCalled(term.noun, of), plural: term.plural && partCalled(term.plural, of) };
}

/** Of "plate or map" the one that a note speaks of, "the map of the northern hundred"; both where it names none. */
function theOneNoted([one, many]: readonly [string, string], note: string): readonly [string, string] {
  const [ones, several] = [one.split(" or "), many.split(" or ")];
  const words = note.toLowerCase().split(/[^\p{L}]+/u);
  const at = ones.flatMap((name, at) =>
    words.includes(name) || words.includes(several[at] ?? "") ? at : [],
  );
  const [only = -1, another] = at;
  return another === undefined && ones[only] && several[only] ? [ones[only], several[only]] : [one, many];
}

/** Whether a note says which one it is: "plate 4", "the map of the northern hundred". */
export function isOneLeaf({ note }: FindingValue) {
  const typed = note.trim();
  const isNumber = /^(?:\p{L}+\.? )?(?:\d+|[ivxlc]+)\.?$/iu.test(typed);
  return (
    isNumber ||
    (/^(?:the|an?) (?!last |first |final )/i.test(typed) &&
      thingNoted(typed)?.isSeveral !== true &&
      !/ and |\d+[,;-]/.test(typed))
  );
}
