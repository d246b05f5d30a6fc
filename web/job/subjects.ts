/**
 * Whose a fault is where there are several, or where a note says it: "two of the six have", "the rim of the left one".
 */

import { countInWords } from "./english.ts";
import { type Described, termOf, WHOLE, wholeOfZones } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { areMany, isOnPieces, isSharedOut, onlyOne, onOneOf } from "./how_many.ts";
import { linesListed } from "./listed_pieces.ts";
import { namedByNote } from "./lost.ts";
import { shareAWord } from "./one_of_them.ts";
import { OF_ANOTHERS, REPLACED } from "./parts_noted.ts";
import { isMadeForIt, notOfThem } from "./pieces_noted.ts";
import { nounOf, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import type { Clause, Said } from "./things_on.ts";
import type { Term, ZoneName } from "./types.ts";
import { lineOf, ownWords, piecesOf } from "./which_piece.ts";

/** "The lid of the mould", which is none of the pieces that were listed, as whoever missed it called it. */
export function lostOf({ record }: Described, finding: FindingValue) {
  const isNamed = /^the /i.test(ownWords(finding)) && !lineOf(record, finding) && !finding.piece;
  return isNamed && linesListed(record).length && (finding.piece_count ?? 1) === 1 ? ownWords(finding) : null;
}

/** What a note says that it is from stands in place of "from another watch": "associated, from a wristwatch". */
export function fromOneNoted({ record }: Described, clause: Clause, finding: FindingValue): Clause {
  const { term, zone, note } = finding;
  if (!OF_ANOTHERS.includes(term) || "thing" in clause) return clause;
  // A chair that is no part of a set is from another set.
  const isOfSet = zone === WHOLE && isOnPieces(finding) && piecesOf(record) > 2;
  const isOfPieces = zone === WHOLE && isOnPieces(finding) && term !== REPLACED;
  if (isOfPieces && isMadeForIt(note) && !/^from /i.test(note.trim()))
    return { ...clause, what: notOfThem(record) };
  if (!/^from /i.test(note.trim()))
    return isOfSet
      ? { ...clause, what: clause.what.replace(/from another .*$/, "from another set") }
      : clause;
  return { ...clause, what: clause.what.replace(/(?:,)? from another .*$/, ",") };
}

/** "The nozzle, plated" of a nozzle says "plated". */
export function withoutName(note: string, { one, many }: ZoneName) {
  const [, name = "", rest = ""] = /^(?:the |its )?([\p{L} -]+), +(.+)$/iu.exec(note.trim()) ?? [];
  return name && [one, many].includes(name.toLowerCase()) ? rest : note;
}

/** Some zones have another noun for it: wear to the top edge is not "to the edges" of it. */
export function onZone(term: Term | undefined, zone: string, named: string): Term | undefined {
  const [noun, prep] = term?.noun_on?.[zoneOf(zone)] ?? [];
  return term && noun && prep && !shareAWord(named, noun) ? { ...term, noun, prep } : term;
}

/** "the rim of the left one is replaced", "the rims of both are replaced" */
export function ofPieces(
  { book }: Described,
  { zone, term, piece_count }: FindingValue,
  clause: Said,
  which: string,
): Said {
  const name = zoneNameOf(book, zoneOf(zone));
  const [one, many] = wholeOfZones(termOf(book, term), [zone]) ?? [name.one, nounOf(name, 2)];
  // One of the six saucers is another's, and no saucer of it.
  if (
    clause.subject === `the ${one}` &&
    [one, many].some((noun) => which.endsWith(` ${noun}`) && !which.endsWith(` with ${noun}`))
  )
    return { ...clause, subject: which, verb: (piece_count ?? 1) > 1 ? "are" : clause.verb };
  const isSeveral = (piece_count ?? 1) > 1 && name.of_each && clause.verb === "is";
  // The cover of "the teapot with cover" is that of the teapot.
  const of = which.endsWith(` with ${one}`) ? which.slice(0, -` with ${one}`.length) : which;
  if (isSeveral && clause.subject === `the ${one}`)
    return { ...clause, subject: `the ${many} of ${of}`, verb: "are" };
  return { ...clause, subject: `${clause.subject} of ${of}` };
}

/** Whether of a set something is missing that nobody named: it is none of the pieces that are here. */
export function isUnnamed({ record }: Described, { zone, term, note }: FindingValue, which: string) {
  return zone === WHOLE && term === MISSING && !which && !note.trim() && piecesOf(record) > 1;
}

/** "two of the six have a chip to the rim", "three of the 58 have hairlines in the body, three in all" */
export function hadInWords(
  described: Described,
  which: string,
  finding: FindingValue,
  thing: string,
  hedge: string,
) {
  const has = areMany(described, finding) ? "have" : "has";
  // Two of the five saucers have a chip, and none to the saucer.
  const { one, many } = zoneNameOf(described.book, zoneOf(finding.zone));
  const isIt = [one, many ?? one].some((name) => new RegExp(`\\b${name}s?$`).test(which));
  const what = isIt ? thing.replace(new RegExp(` (?:to|in|on|of|over) the ${one}\\b`), "") : thing;
  const counted = isSharedOut(finding) ? `, ${countInWords(finding.extent_count ?? 0)} in all` : "";
  return [which, hedge, has, what].filter(Boolean).join(" ") + counted;
}

/** "the head is", "both ears are": what a fault is on, for what is said of that. */
export function onWhat(described: Described, finding: FindingValue, zones: string[]) {
  const { plan, book } = described;
  const place = onlyOne(described, finding) ?? namedByNote(described, finding) ?? placesOf(plan, book, zones);
  const { words, many } = onOneOf(described, finding, place, zones);
  return `${words.replace(/^(an?|each) /, "the ")} ${many ? "are" : "is"}`;
}
