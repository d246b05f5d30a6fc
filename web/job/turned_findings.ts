/** Where a finding that the desk wrote of has turned out to be another fault, in another place, hearsay or none. */

import { standingDenials } from "./denials.ts";
import { withoutArticle } from "./english.ts";
import { type Described, OF_IT, related, saysOf, termOf, touch, wholeOfZones } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { itCalled } from "./it_called.ts";
import { linesListed } from "./listed_pieces.ts";
import { partCalled } from "./parts_noted.ts";
import { SET } from "./pieces.ts";
import { memberWords, zoneNameOf, zoneOf } from "./places.ts";
import type { PlanBook, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { NOT_NOTED, ownWords, piecesOf, whichPiece } from "./which_piece.ts";
import { spaced } from "./words.ts";

/**
 * Whether a finding is only told now, not determined, of another name or in another place than in what the record said
 * `before`, when the desk wrote; or was withdrawn, and its zone is said to be clear of it.
 */
export function isFindingTurned(
  described: Described,
  before: string,
  id: string,
  isStruck: boolean,
): boolean {
  const { plan, book, record } = described;
  const found = fieldValue(record, `findings/${id}`);
  if (!found || !before) return false;
  if (found.withdrawn) {
    const state = fieldValue(record, `zones/${found.zone}`)?.state;
    const isDenied = standingDenials(described).some(
      ({ value }) => touch(plan, value.zone, found.zone) && related(book, value.term, found.term),
    );
    return isDenied || state === "clear" || state === "not-examined";
  }
  if (found.certainty === "told") return !isStruck;
  if (found.certainty === "not-determined" && !before.includes("not determined")) return !isStruck;
  return (
    isOfAnotherName(book, before, found) ||
    isInAnotherPlace(described, before, found) ||
    isOnAnotherPiece(described, before, found)
  );
}

/** The sides by which the two of a pair are told apart. */
const SIDES = ["left", "right", "upper", "lower"];

/** Whether of several pieces a finding is on another one, or on more or fewer, than the sentence said. */
function isOnAnotherPiece({ book, record }: Described, before: string, found: FindingValue) {
  const all = piecesOf(record);
  if (all < 2) return false;
  const [noun] = zoneNameOf(book, SET).counted ?? [];
  const wordsOf = (on: Partial<FindingValue>) => {
    const value = { ...found, piece: null, piece_count: null, piece_words: null, ...on };
    return [whichPiece(record, value), whichPiece(record, value, noun)];
  };
  const isSaid = (some: string[]) => some.some((words) => isWithin(before, words));
  const numbers = Array.from({ length: all }, (_, at) => at + 1);
  const told = [...SIDES, ...numbers.map(String)].map((piece) => wordsOf({ piece }));
  const { piece, piece_count } = found;
  const isNamed = piece_count || (piece && piece !== NOT_NOTED);
  if (!isNamed) return told.some(isSaid) && !told.some((some) => isIn(found.note, some));
  const everyWay = [...told, ...numbers.map((count) => wordsOf({ piece_count: count }))];
  const isElsewhere = everyWay.some(isSaid) && !isSaid(wordsOf({ piece, piece_count }));
  return isElsewhere || isAnotherOfList(record, before, found);
}

/** Whether the sentence names lines of the list of pieces, and not the one that a finding is on. */
function isAnotherOfList(record: RecordCopy, before: string, found: FindingValue) {
  const own = withoutArticle(ownWords(found));
  const lines = linesListed(record).map(({ value }) => withoutArticle(value.words.trim()));
  return lines.includes(own) && lines.some((line) => isWithin(before, line)) && !isWithin(before, own);
}

function isIn(note: string | null | undefined, some: string[]) {
  return some.some((words) => isWithin(note ?? "", words));
}

/** Whether some words stand in others as words of their own. */
function isWithin(all: string, words: string) {
  return (
    words !== "" &&
    ` ${all.toLowerCase()} `
      .replace(/[^\p{L}\d-]+/gu, " ")
      .includes(` ${words.toLowerCase().replace(/[^\p{L}\d-]+/gu, " ")} `)
  );
}

/** Whether a finding bears a name that was in no word of the sentence. */
function isOfAnotherName(book: PlanBook, before: string, found: FindingValue) {
  const term = termOf(book, found.term);
  if (!term) return false;
  // A case that is "associated" is not said to be "from another item", which goes on behind a comma.
  const [says] = saysOf(term, found.zone)?.split(",") ?? [];
  const elsewhere = Object.values(term.noun_on ?? {}).map(([noun]) => noun);
  const names = [term.noun, term.plural, says, ...(term.verbs ?? []), ...elsewhere, spaced(term.term)];
  // A part is called by what the set is of, which its name may not have said then.
  const zone = zoneNameOf(book, zoneOf(found.zone));
  const called = [zone, ...(zone.called ?? []).map((one) => ({ ...zone, counted: one.counted ?? null }))];
  const parts = called.flatMap((one) => names.map((name) => name && partCalled(name, one)));
  return !isNamedIn(before, [...names, ...parts]);
}

/** Whether a finding is on a zone, or a member of one, that was in no word of the sentence. */
function isInAnotherPlace(
  { plan, book, record }: Described,
  before: string,
  { zone, term, piece, piece_count }: FindingValue,
) {
  const name = zoneNameOf(book, zoneOf(zone));
  if (zone === "outline") return false; // of the whole no place is named
  if (zone === SET && (piece || piece_count)) return false; // nor of a set, behind which of it it is
  if (termOf(book, term)?.says_where?.includes(zoneOf(zone))) return false;
  const wholes = (wholeOfZones(termOf(book, term), [zone]) ?? []).map(
    (whole) => `the ${whole === OF_IT ? (itCalled(book, record, plan) ?? whole) : whole}`,
  );
  if (isNamedIn(before, wholes)) return false;
  const called = [...(name.called ?? []), ...(name.group ? [name.group] : [])];
  const nouns = [name, ...called].flatMap(({ one, many }) => [one, many]);
  const counted = [name, ...(name.called ?? [])].flatMap((one) => one.counted ?? []);
  // "The marks on one or both bodies" are the marks on the bodies.
  const plain = before.replaceAll(/\b(on|of) one or (?:both|more) /gi, "$1 the ");
  if (![before, plain].some((words) => isNamedIn(words, [...nouns, ...counted, ...(name.also ?? [])])))
    return true;
  const [, member] = zone.split("/");
  return Boolean(member) && !/\b(each|both|all)\b/i.test(before) && !before.includes(memberWords(book, zone));
}

export function isNamedIn(before: string, names: (string | null | undefined)[]) {
  const words = before.toLowerCase();
  return names.some((name) => name && words.includes(name.toLowerCase()));
}

/** `activity` is the letter of the key, which is small. */
export function isNoLongerGoingOn({ record }: Described, activity: string, id: string) {
  const found = fieldValue(record, `findings/${id}`);
  return (
    !found ||
    found.withdrawn ||
    found.certainty === "told" ||
    (found.activity ?? "").toLowerCase() !== activity
  );
}
