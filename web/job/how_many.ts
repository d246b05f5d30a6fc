/**
 * Of how many of several a fault is so: the pieces of a set and the things of a zone, such as handles, counted or not.
 */

import { withArticle } from "./articles.ts";
import { countInWords, numberOf } from "./english.ts";
import { type Described, termOf, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { namedByNote } from "./lost.ts";
import { isOfSeveral, isOneNamed, thingNoted } from "./one_of_them.ts";
import { SET } from "./pieces.ts";
import { nounOf, type Place, zoneNameOf, zoneOf } from "./places.ts";
import { BESIDE } from "./receipt_lists.ts";
import { isOfThem } from "./typed_names.ts";
import type { PlanBook, RecordCopy, ZoneName } from "./types.ts";
import { fieldValue } from "./values.ts";
import { lineOf, NOT_NOTED, piecesOf } from "./which_piece.ts";

/** What befell each by itself: a leg is stuck back, where colours have run all over. */
const OF_SINGLE_ONES = ["loss", "structural", "previous intervention"];

/** Whether what a finding is on is several: two of them, or what one line of a list calls so, such as sugar tongs. */
export function areMany({ book, record }: Described, finding: FindingValue) {
  if ((finding.piece_count ?? 1) > 1) return true;
  const line = lineOf(record, finding);
  return line?.count === 1 && isOfThem(line.words, book.print.english);
}

/** What is on pieces of a set; what is on the set itself, no piece of it has. */
export function isOnPieces({ zone, piece, piece_count, certainty }: FindingValue) {
  return zone !== SET && certainty !== "not-determined" && Boolean(piece || piece_count);
}

/** Whether several are counted on several pieces: nobody noted how many are on each. */
export function isSharedOut(finding: FindingValue) {
  const { piece_count, extent_count } = finding;
  return isOnPieces(finding) && (piece_count ?? 1) > 1 && (extent_count ?? 1) > 1 && !isOneEach(finding);
}

/** As many as there are pieces that have any: one each. */
export function isOneEach(finding: FindingValue) {
  const { piece_count, extent_count } = finding;
  return isOnPieces(finding) && (piece_count ?? 1) > 1 && piece_count === extent_count;
}

/** The one thing of a zone of several, such as the handle of a jug. */
export function onlyOne({ book, record }: Described, { zone }: FindingValue): Place | null {
  const name = zoneNameOf(book, zoneOf(zone));
  const isOnly = name.plural && fieldValue(record, `zones/${zone}`)?.count === 1;
  return isOnly ? { words: `the ${name.one}`, many: false } : null;
}

/** What is a piece of the whole, or of a set, is not the whole itself. */
export function isOfTheWhole(book: PlanBook, { zone }: FindingValue) {
  return zone === WHOLE || zoneNameOf(book, zoneOf(zone)).tally;
}

/** "the handles", "all four pegs", "one of the three hands", "eight handles" */
export function subjectOf(described: Described, finding: FindingValue, place: Place, zones: string[]): Place {
  const { book, record } = described;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  const count = finding.extent_count ?? 0;
  const any = zones.length === 1 && !count ? onAnyOf(described, finding) : null;
  if (any || namedByNote(described, finding)) return any ?? place;
  // How many of several are missing, or what else befell them, nobody counted.
  if (zones.length === 1 && isUncounted(described, finding, name)) {
    const all = fieldValue(record, `zones/${finding.zone}`)?.count ?? piecesOf(record);
    const noted = thoseNoted(described, finding, name);
    if (noted) return noted;
    return { words: `${all === 2 ? "one or both" : "one or more"} ${nounOf(name, 2)}`, many: true };
  }
  if (!count || zones.length > 1 || finding.zone.includes("/") || !name.plural) return place;
  const all = fieldValue(record, `zones/${finding.zone}`)?.count ?? 0;
  const many = count > 1;
  const [single, several] = name.counted ?? [name.one, nounOf(name, 2)];
  if (count === all)
    return {
      words: all === 1 ? `the ${single}` : `${all === 2 ? "both" : `all ${countInWords(all)}`} ${several}`,
      many,
    };
  if (count < all)
    return { words: `${countInWords(count, true)} of the ${countInWords(all)} ${several}`, many };
  return { words: `${countInWords(count, true)} ${count === 1 ? single : several}`, many };
}

/** What lies with a thing is of any kind, and no part of another. */
export const LYING_WITH: ReadonlySet<string> = new Set(BESIDE.split(" "));
const OF_ALL = /\b(?:all|both|each|every|none)\b/i;

/**
 * Whether what is missing of several, or was lost, changed or broke, may be one of them or all: nobody counted, and no
 * word of a note says that it is all of them.
 */
function isUncounted({ book, record }: Described, finding: FindingValue, name: ZoneName) {
  const { zone, term, note, extent_count, extent_percent, certainty, ...more } = finding;
  const isOfSeveral = name.plural && !name.together && nounOf(name, 2) !== name.one && !zone.includes("/");
  const isCounted = extent_count || extent_percent || fieldValue(record, `zones/${zone}`)?.count === 1;
  if (!isOfSeveral || isCounted || OF_ALL.test(note)) return false;
  if (term === MISSING) return true;
  const isPlaced = more.extent_mm || more.extent_words?.trim() || more.side;
  const isEach = OF_SINGLE_ONES.includes(termOf(book, term)?.family ?? "");
  return isEach && !isPlaced && certainty !== "not-determined" && !/^marks? /.test(`${name.one} `);
}

/** Whether the subject of a clause is what its note names, so that the note says no more. */
export function isNotedAlone(described: Described, finding: FindingValue, zones: string[]) {
  const name = zoneNameOf(described.book, zoneOf(finding.zone));
  const isOfSome =
    zones.length === 1 && isUncounted(described, finding, name) && !onAnyOf(described, finding);
  return isOfSome && !namedByNote(described, finding) && thoseNoted(described, finding, name) !== null;
}

/** "Two links", "the A peg", "four": what is missing of several, where a note names or counts them; else null. */
function thoseNoted(described: Described, finding: FindingValue, name: ZoneName): Place | null {
  const { zone, term, note, extent_count, extent_percent, piece, piece_count } = finding;
  const isSome = name.plural && !name.together && !zone.includes("/");
  if (term !== MISSING || !isSome || extent_count || extent_percent || piece || piece_count) return null;
  const typed = note.trim().replace(/^(?:the|its) /i, "");
  const count = numberOf(typed.toLowerCase());
  const [one, many] = name.counted ?? [name.one, nounOf(name, 2)];
  if (count) return { words: `${typed.toLowerCase()} ${count > 1 ? many : one}`, many: count > 1 };
  const isLone = LYING_WITH.has(zone) && thingNoted(note) !== null;
  if (!(isLone || isOneNamed(described, name, zone, note))) return null;
  const [first = ""] = typed.toLowerCase().split(" ");
  const isBare = typed === note.trim() && /^an?$/.test(first);
  const begins = isBare || numberOf(first) ? "" : "the ";
  return {
    words: begins + typed,
    many: / and /.test(typed) || isOfThem(typed, described.book.print.english),
  };
}

/** Whether a zone is one thing, and was not counted as several: a clasp, but no doors. */
export function isSingle({ book, record }: Described, { zone }: FindingValue) {
  return !zoneNameOf(book, zoneOf(zone)).plural && (fieldValue(record, `zones/${zone}`)?.count ?? 1) === 1;
}

/** One thing on a zone of several, such as the handles, is on one of them, or on each of all its members. */
export function onOneOf(described: Described, finding: FindingValue, place: Place, zones: string[]): Place {
  const { book } = described;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  if (onAnyOf(described, finding)) return { words: withArticle(name.one, book.print.english), many: false };
  if (zones.length > 1) return { words: `each ${name.one}`, many: false };
  const isOfSeveral = name.plural && !name.together && name.many !== name.one && zones.length === 1;
  if (!isOfSeveral || !place.many || finding.zone.includes("/") || finding.extent_percent) return place;
  return { words: withArticle(name.one, book.print.english), many: false };
}

/** Where nobody said which of several things it is on, that may be one or all of them: "one or more obverses". */
export function onAnyOf({ book, record }: Described, finding: FindingValue): Place | null {
  const { zone, piece, piece_count, extent_count, extent_percent, note } = finding;
  const name = zoneNameOf(book, zoneOf(zone));
  const isCounted = (extent_count ?? 0) > 1 && !name.of_each;
  const isNoted = note.trim() && !isOfSeveral(name, note);
  const isSaid = piece_count || isCounted || isNoted || (piece && piece !== NOT_NOTED);
  if (!(name.of_each || name.of_some) || zone.includes("/") || isSaid || extent_percent) return null;
  return { words: onSomeOf(nounOf(name, 2), someOf(record)), many: true };
}

/** "The marks on one or both bodies": how many there are on each is not known, so it is the bodies that are counted. */
function onSomeOf(several: string, some: string) {
  const [, marks, what] = /^(.+ (?:on|of)) the ([\p{L} -]+)$/u.exec(several) ?? [];
  return marks ? `the ${marks} ${some} ${what}` : `${some} ${several}`;
}

/** Of two, "one or both". */
export function someOf(record: RecordCopy) {
  return piecesOf(record) === 2 ? "one or both" : "one or more";
}

export function isSeveral({ print }: PlanBook, record: RecordCopy) {
  return isOfThem(fieldValue(record, "short_description") ?? "", print.english);
}
