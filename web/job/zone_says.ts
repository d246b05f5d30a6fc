/** Whether a term says what its zone is, "the handles are replaced", or is a thing on it, "a chip to the rim". */

import { type Described, saysOf, seenFindings, termOf, WHOLE, wholeOfZones } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { isOfTheWhole, isOnPieces, LYING_WITH } from "./how_many.ts";
import { missingThere } from "./lost.ts";
import { isOneOfThem, shareAWord } from "./one_of_them.ts";
import { isNamedPart, isOfPart, OF_ANOTHERS, partOfIt } from "./parts_noted.ts";
import { nounOf, type Place, zoneNameOf, zoneOf } from "./places.ts";
import type { Term, ZoneName } from "./types.ts";
import { isOnSomePieces } from "./which_piece.ts";

/** A verso is not what is laid down, but the sheet is: of what the zones are part of. */
export function asPartOf({ book }: Described, term: Term, zones: string[], place: Place): Place {
  const [one, many] = wholeOfZones(term, zones) ?? [];
  const [zone = ""] = zones;
  if (!one || !many) return place;
  if (zones.length > 1 || zone.includes("/")) return { words: `the ${one}`, many: false };
  const name = zoneNameOf(book, zoneOf(zone));
  const words = place.words.replace(nounOf(name, 2), place.many ? many : one).replace(name.one, one);
  return { ...place, words };
}

/** Whether it is a thing that could be counted, so that what is on two members is two of them. */
export function isCountable(described: Described, finding: FindingValue) {
  const term = termOf(described.book, finding.term);
  return Boolean(term?.plural) && !saysWhatZoneIs(described, term, finding, [finding.zone]);
}

/** Whether what cannot be counted is said of each of some zones in the same words, as slight play is. */
export function isOfAnyZone(described: Described, finding: FindingValue, zones: string[]) {
  const term = termOf(described.book, finding.term);
  const names = zones.map((zone) => zoneNameOf(described.book, zoneOf(zone)));
  const isOwn = (zone: string) =>
    Boolean(
      term?.says_on[zoneOf(zone)] || term?.says_where?.includes(zoneOf(zone)) || wholeOfZones(term, [zone]),
    );
  const isPlain = ({ tally, within, of_each, of_some, one, many }: ZoneName) =>
    !(tally || within || of_each || of_some) &&
    ![one, many ?? one].some((noun) => (term?.noun ?? term?.term ?? "").includes(noun));
  return (
    Boolean(term) &&
    !term?.plural &&
    !term?.verbs &&
    !term?.noun_first &&
    names.every(isPlain) &&
    zones.every((zone) => !isOwn(zone) && !saysWhatZoneIs(described, term, { ...finding, zone }, [zone]))
  );
}

/** Whether something else was seen of what is missing: then it is so in part. */
function isSeenInPart({ record }: Described, finding: FindingValue) {
  const { term, zone, extent_count, piece } = finding;
  // What was seen of the others is no part of the one that is missing.
  const isOfSome = isOnSomePieces(record, finding);
  const isOnIt = (other: FindingValue) => !isOfSome || (piece && other.piece === piece);
  const isOfIt = (other: string) => other === zone || zoneOf(other) === zone || other === zoneOf(zone);
  return (
    term === MISSING &&
    !extent_count &&
    seenFindings(record).some(({ value }) => value.term !== MISSING && isOfIt(value.zone) && isOnIt(value))
  );
}

/**
 * A term that says what a zone is says so, but for what is counted on a zone that is one thing, and where a note names
 * what is missing of it.
 */
export function saysWhatZoneIs(
  described: Described,
  term: Term | undefined,
  finding: FindingValue,
  zones: string[],
): term is Term {
  const { book } = described;
  if (!term || !(saysOf(term, finding.zone) || term.verbs)) return false;
  if (partOfIt(described, term, finding, zones)) return true;
  if (term.thing_on?.includes(zoneOf(finding.zone)) || isNamedPart(described, term, finding)) return false;
  if (missingThere(described, finding, zones)) return true;
  const isNoun =
    term.noun_first && shareAWord(term.noun ?? "", nounOf(zoneNameOf(book, zoneOf(finding.zone)), 1));
  if (term.part && !term.says_on[zoneOf(finding.zone)] && !isNoun) return false;
  if (!term.noun || !term.plural || term.says_on[zoneOf(finding.zone)]) return true;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  if (isSeenInPart(described, finding) || isOfUnlike(name, finding)) return false;
  if (term.noun_first) return shareAWord(term.noun, nounOf(name, 1));
  // Two of six chairs that are from elsewhere are no part of any.
  if (OF_ANOTHERS.includes(term.term) && finding.zone === WHOLE && isOnPieces(finding)) return true;
  if (term.whole && isOfTheWhole(book, finding)) return false;
  if (finding.zone === WHOLE && !finding.extent_count) return true;
  const count = finding.extent_count ?? 0;
  const isOne = !name.plural || finding.zone.includes("/");
  if (term.note_names && finding.note.trim() && count && !isOneOfThem(described, name, finding)) return false;
  if ((isOne || count) && finding.extent_mm && term.measured === "for") return false; // "a glued repair of 22 mm"
  const isOfThings = !isOne && term.note_names && !count && finding.note.trim();
  if (isOfThings && !LYING_WITH.has(finding.zone) && !isOneOfThem(described, name, finding)) return false;
  if (isOne && term.note_names && !count && isOfPart(described, name, finding)) return false;
  // One loose part of a frame is not all of it where a note says which.
  if (isOne) return count === 0 || (count === 1 && term.whole && !finding.note.trim());
  return zones.length === 1 || count === 0;
}

/** Whether what is missing is some of the unlike things of a zone, and nobody said how many. */
export function isOfUnlike({ unlike }: ZoneName, { term, extent_count }: FindingValue) {
  return Boolean(unlike) && term === MISSING && !extent_count;
}
