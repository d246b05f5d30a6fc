/** What happened to zones since they were made, where their findings have not said it. */

import { type Described, deniedBy, seenFindings, termOf, touch, WHOLE, wholeOfZones } from "./families.ts";
import type { Families, FindingValue } from "./fields.ts";
import { isMissing, isNone } from "./gone.ts";
import { someOf } from "./how_many.ts";
import { originWords } from "./in_lists.ts";
import { wholeInWords } from "./it_called.ts";
import { tellsOfPart } from "./part_told.ts";
import { isOfNamedPart } from "./parts_noted.ts";
import { isMadeForIt, notOfThem, type PiecesNoted, piecesNoted } from "./pieces_noted.ts";
import { nounOf, type Place, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { behindColon, goingOnWith, type Sentence, sentence } from "./sentences.ts";
import { type Listed, listed } from "./values.ts";
import { isOnSomePieces, piecesOf } from "./which_piece.ts";

type Origin = Families["origins"];
const ORIGINAL = ["original", "original-probably"];
const LATER = ["replaced", "associated", "refinished"];
/** What is not what stood there first, all of it or in part. */
const OF_ANOTHER = ["replaced", "later-added", "associated"];
const NOT_SETTLED = "is recorded as well; which of the two is right is not settled";
/** A note that says itself what is not meant: "but for the mainspring". */
const EXCEPT = /^(?:but for|except|apart from) /i;
const OF_ALL = /\b(?:all|both|each|every)\b/i;

/** `about` are the zones that it speaks of. */
export type OriginSentence = Sentence & { about: string[] };

export function originSentences(described: Described): OriginSentence[] {
  const { plan, book, record } = described;
  const order = plan.zones.flatMap(keysOf);
  const origins = listed(record, "origins/")
    .filter((origin) => origin.value.origin && !isSaid(described, origin))
    .sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id) || a.id.localeCompare(b.id));
  const groups = new Map<string, Listed<Origin>[]>();
  for (const origin of origins) {
    const rest = isSpokenAgainst(described, origin) ? "against" : changedBefore(described, origin);
    const key = JSON.stringify([
      origin.value.origin,
      origin.value.note?.trim(),
      rest,
      origin.value.note ? zoneOf(origin.id) : "",
      described.apart?.(`origins/${origin.id}`),
    ]);
    groups.set(key, [...(groups.get(key) ?? []), origin]);
  }
  const rank = book.words.originalities.map(({ originality }) => originality);
  return [...groups.values()]
    .sort((a, b) => rank.indexOf(originOf(a)) - rank.indexOf(originOf(b)))
    .map((group) => {
      const zones = group.map(({ id }) => id);
      const rest = group.some((origin) => changedBefore(described, origin)) ? "otherwise " : "";
      const origin = originOf(group);
      const own = group[0]?.value.note ?? "";
      const some = ofSomePieces(described, zones, origin, own);
      const { words, many } = some ?? inPart(described, group, ofOrigin(described, zones, origin));
      const is = many ? "are" : "is";
      const noted = (origin === "not-determined" ? behindColon : goingOnWith)(some?.rest ?? own);
      const note = noted.startsWith(" from ") ? `,${noted}` : noted;
      const isOfOthers = some && origin === "associated" && isMadeForIt(own);
      const said = isOfOthers ? notOfThem(described.record) : saidOf(described, zones, origin);
      const isAgainst = group.some((one) => isSpokenAgainst(described, one));
      return {
        ...sentence(
          origin === "not-determined"
            ? `whether ${words} ${is} original was not determined${note}`
            : isAgainst
              ? `that ${words} ${is} ${originWords(book, origin)}${note} ${NOT_SETTLED}`
              : `${words} ${is} ${rest}${said}${note}`,
          zones.map((id) => `origins/${id}`),
        ),
        about: zones,
      };
    });
}

/** A chain is of no other watch: what an origin says that a term says of some zones otherwise. */
function saidOf({ book }: Described, zones: string[], origin: string) {
  const words = originWords(book, origin);
  const term = book.vocabulary.terms.find(({ origins, says }) => origins.includes(origin) && says === words);
  const own = zones.map((zone) => term?.says_on[zoneOf(zone)]);
  return own.reduce((one, other) => (one === other ? one : undefined)) ?? words;
}

/** What zones are called of which a word says what became of them: the metal is refinished, and not its finish. */
function ofOrigin(described: Described, zones: string[], origin: string): Place {
  const { plan, book } = described;
  const [only, another] = zones;
  if (only === WHOLE && !another) return { words: wholeInWords(described), many: false };
  const term = book.vocabulary.terms.find(({ origins }) => origins.includes(origin));
  const [whole] = wholeOfZones(term, zones) ?? [];
  return whole ? { words: `the ${whole}`, many: false } : placesOf(plan, book, zones);
}

/**
 * Of a set what a note tells of some pieces is no word of all of them: "two of the six are later". Of what each of them
 * has, and nobody said which, that may be one or all.
 */
function ofSomePieces(
  described: Described,
  zones: string[],
  origin: string,
  note: string,
): PiecesNoted | null {
  const { book, record } = described;
  const [zone = WHOLE, another] = zones;
  if (another || zone.includes("/")) return null;
  const noted = piecesNoted(record, note);
  if (zone === WHOLE) return noted;
  const name = zoneNameOf(book, zone);
  if (!name.of_each || piecesOf(record) < 2) return null;
  const [one, several] = [name.one, nounOf(name, 2)];
  if (noted) return { ...noted, words: `the ${noted.many ? several : one} of ${noted.words}` };
  const isOpen = OF_ANOTHER.includes(origin) && !OF_ALL.test(note) && !tellsOfPart(described, zone, note);
  return isOpen ? { words: `${someOf(record)} ${several}`, many: true, rest: note } : null;
}

/** "A part of the movement", where the note beside an origin tells of one: "mainspring only". */
function inPart(described: Described, group: Listed<Origin>[], place: Place): Place {
  const isOfPart = group.some(
    ({ id, value }) => id !== WHOLE && isToldInPart(described, id, value.origin, value.note),
  );
  return isOfPart ? { words: `a part of ${place.words}`, many: false } : place;
}

function isToldInPart(described: Described, zone: string, origin?: string | null, note?: string | null) {
  return OF_ANOTHER.includes(origin ?? "") && tellsOfPart(described, zone, note ?? "");
}

function originOf(group: Listed<Origin>[]) {
  return group[0]?.value.origin ?? "";
}

/** Whether what is on record as original was changed since, by a finding or by what a zone near it is. */
export function isNoLongerOriginal(described: Described, id: string): boolean {
  const origin = listed(described.record, "origins/").find((one) => one.id === id);
  if (!origin || !ORIGINAL.includes(origin.value.origin ?? "")) return false;
  const isChanged = foundOn(described, id).some(
    ({ value }) =>
      isChange(described.book, value.term, value.origin) &&
      !value.extent_count &&
      !isOfNamedPart(described, value),
  );
  return isChanged || isSaid(described, origin);
}

function foundOn({ record }: Described, id: string) {
  return seenFindings(record).filter(({ value }) => [id, zoneOf(id)].includes(value.zone));
}

/** Whether a finding on the zone says it already, or says that all of it is no longer what it was. */
function isSaid(described: Described, { id, value }: Listed<Origin>) {
  const { book, record, plan } = described;
  // Of what is gone, or never was there, nobody saw it: only a note can tell what is meant.
  if (
    !value.note?.trim() &&
    (isMissing(described, id) || isMissing(described, zoneOf(id)) || isNone(record, id))
  )
    return true;
  const origin = value.origin ?? "";
  if (piecesNoted(record, value.note ?? "")) return false;
  if (ORIGINAL.includes(origin))
    return listed(record, "origins/").some(
      (other) =>
        other.id !== id &&
        touch(plan, other.id, id) &&
        deniedBy(book, other.value.origin).length > 0 &&
        !piecesNoted(record, other.value.note ?? ""),
    );
  return (
    !value.note?.trim() &&
    foundOn(described, id).some(
      (finding) => finding.value.origin === origin || shows(book, finding.value, origin),
    )
  );
}

/**
 * Whether the zone was seen to be no longer what it is said to be: two that cannot both be, and neither of them is
 * dropped. What is missing, or was changed with the whole, is told otherwise.
 */
function isSpokenAgainst(described: Described, { id, value }: Listed<Origin>) {
  if (!ORIGINAL.includes(value.origin ?? "") || isMissing(described, id) || isMissing(described, zoneOf(id)))
    return false;
  return foundOn(described, id).some((finding) => isChangeOfAll(described, finding.value));
}

/** Whether all of a zone was changed, as far as was noted: nobody counted, measured or said which of several. */
function isChangeOfAll(described: Described, found: FindingValue) {
  const { book, record } = described;
  const { zone, term, origin, extent_count, extent_mm, extent_percent, note } = found;
  const isInPart =
    extent_count || extent_mm || (extent_percent ?? 100) < 100 || isOnSomePieces(record, found);
  const isOfSeveral = zoneNameOf(book, zoneOf(zone)).plural && !zone.includes("/");
  const isAll = !isInPart && (!isOfSeveral || OF_ALL.test(note)) && !isOfNamedPart(described, found);
  return isChange(book, term, origin) && isAll;
}

/** Whether a finding says of all of its zone what an origin would say again. */
function shows(book: Described["book"], found: FindingValue, origin: string) {
  const { term, extent_mm, extent_percent, extent_count } = found;
  const isOfAll = !(extent_mm || extent_percent || extent_count);
  return termOf(book, term)?.origins.includes(origin) || (isOfAll && deniedBy(book, origin).includes(term));
}

/** Whether some of an original zone was changed, so that the rest of it is meant. */
function changedBefore({ book, record }: Described, { id, value }: Listed<Origin>) {
  return (
    ORIGINAL.includes(value.origin ?? "") &&
    !EXCEPT.test(value.note ?? "") &&
    seenFindings(record).some(
      (finding) => finding.value.zone === id && isChange(book, finding.value.term, finding.value.origin),
    )
  );
}

/** Whether a finding says that something later stands where the first was, or lies over it. */
function isChange(book: Described["book"], name: string, origin: string | null) {
  const { ended_by = [] } = book.words.originalities.find((row) => ORIGINAL.includes(row.originality)) ?? {};
  return ended_by.includes(name) || LATER.includes(origin ?? "");
}
