/** What else was said of a finding, where nobody has settled it: as which other fault, how large, and on how many. */
import { countInWords, listInWords } from "./english.ts";
import { faultSize } from "./extents.ts";
import { type Described, saysOf, termOf, WHOLE } from "./families.ts";
import { faultInWords } from "./fault_nouns.ts";
import type { FindingValue } from "./fields.ts";
import { placesOf } from "./places.ts";
import { arePiecesOpen, bothSaid } from "./unsettled.ts";
import { isContested, saidOf } from "./values.ts";
import { piecesInWords, piecesOf, whichPiece } from "./which_piece.ts";

/**
 * What stands behind a finding, as `value` has it, of which something else was said: "; recorded as 5 mm as well, and
 * not settled". "" where nothing was, or what differs stands in no word of it.
 */
export function readingTail(described: Described, id: string, value: FindingValue): string {
  const { record } = described;
  const field = `findings/${id}` as const;
  if (!isContested(record, field)) return zoneTail(described, value);
  const others = bothSaid(record, field);
  if (others.some(({ withdrawn }) => withdrawn)) return "; whether it is there is not settled";
  const isOfPieces = arePiecesOpen(record, field);
  const printed = isOfPieces ? { ...value, piece_count: null } : value;
  const parts = [...new Set(others.flatMap((other) => partsOf(described, printed, other)))];
  const which = `which of the ${piecesInWords(record, piecesOf(record))}`;
  if (!parts.length) return isOfPieces ? `; ${which} is not settled` : "";
  const recorded = `; recorded ${listInWords(parts)} as well`;
  return isOfPieces
    ? `${recorded}; neither that nor ${which} it is on is settled`
    : `${recorded}, and not settled`;
}

/** That its zone was said to have nothing is a word on what was found there. */
function zoneTail({ record }: Described, { zone }: FindingValue) {
  const name = `zones/${zone}` as const;
  const isClear =
    isContested(record, name) && saidOf(record, name).some(({ value }) => value.state === "clear");
  return isClear ? "; that nothing is there was recorded as well, and is not settled" : "";
}

/** In what another reading differs, in words; what the owner alone says is told by itself. */
function partsOf(described: Described, value: FindingValue, other: FindingValue): string[] {
  if (other.certainty === "told") return [];
  const { plan, book, record } = described;
  const elsewhere = other.zone !== value.zone && other.zone !== WHOLE;
  const place = elsewhere ? [`on ${placesOf(plan, book, [other.zone]).words}`] : [];
  if (other.term !== value.term) return [[`as ${asFault(described, other)}`, ...place].join(" ")];
  const isOther = (name: keyof FindingValue) => Boolean(other[name]) && other[name] !== value[name];
  const pieces = isOther("piece_count") || (value.piece_count && isOther("piece"));
  const isOfPieces = pieces ? whichPiece(record, other) : "";
  return [
    ...(isOther("extent_mm") || isOther("extent_mm_across") ? [`as ${sizeOf(other)}`] : []),
    ...(isOther("extent_percent") ? [`as about ${other.extent_percent} per cent`] : []),
    ...(isOther("extent_count") ? [`as ${countInWords(other.extent_count ?? 1)}`] : []),
    ...(isOfPieces ? [`as ${isOfPieces}`] : []),
    ...(isOther("certainty") && other.certainty !== "certain"
      ? [`as ${other.certainty?.replace("-", " ")}`]
      : []),
    ...place,
  ];
}

function sizeOf({ extent_mm, extent_mm_across }: FindingValue) {
  return [extent_mm, extent_mm_across].flatMap((mm) => (mm ? faultSize(mm) : [])).join(" x ");
}

/** "a hairline of 14 mm"; of what says what its zone is, that: "repainted". */
function asFault(described: Described, finding: FindingValue) {
  const term = termOf(described.book, finding.term);
  const says = saysOf(term, finding.zone);
  return says && !term?.noun ? says : faultInWords(described, finding);
}
