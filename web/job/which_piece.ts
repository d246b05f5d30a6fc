/**
 * On which of the pieces of a thing something was found. Of what is counted as a pair or a set that is said, or that
 * nobody noted it; that some of a thing have numbers of their own is no set: a pot and its cover are no pair.
 */
import { countInWords } from "./english.ts";
import type { FindingValue } from "./fields.ts";
import { piecesCounted, SET } from "./pieces.ts";
import type { RecordCopy } from "./types.ts";

type Fields = Pick<RecordCopy, "fields">;

/** Words of a note that say which piece a fault is on, or may do so. The office's receipts go by the same list. */
const SAYS_WHICH =
  /\b(all|both|each|every|either|neither|other|another|odd|last|left|right|one|two|three|four|five|six|first|second|third|fourth|fifth|sixth|larger|smaller|taller|shorter|\d+)\b/i;
const NOT_NOTED = "not-noted";

/** How many pieces a finding may be on; 1 of a thing that nobody counted, or counted as one. */
export function piecesOf(item: Fields): number {
  const { said, walked, numbered } = piecesCounted(item);
  return said || walked || numbered || 1;
}

/** How many pieces were counted by themselves, else on the walk; 0 if nobody counted. */
export function countAlike(item: Fields): number {
  const { said, walked } = piecesCounted(item);
  return said || walked;
}

/** "two of the six", "both", "the left one", "piece 3 of the six"; "" if it is not said. */
export function whichPiece(item: Fields, { piece, piece_count: count }: FindingValue): string {
  const all = piecesOf(item);
  const ofThem = all > 1 ? `of the ${countInWords(all)}` : "of them";
  if (count) {
    if (count === all && all > 1) return all === 2 ? "both" : `all ${countInWords(all)}`;
    return `${countInWords(count, true)} ${count > all ? "of them" : ofThem}`;
  }
  if (!piece || piece === NOT_NOTED) return "";
  if (!isNumber(piece)) return `the ${piece} one`;
  if (all === 2 && Number(piece) <= 2) return piece === "1" ? "the first" : "the second";
  return Number(piece) > all ? `piece ${piece}` : `piece ${piece} ${ofThem}`;
}

function isNumber(piece: string) {
  return /^\d+$/.test(piece);
}

/** The same in the line of a receipt: "on the left one", "on piece 3", "on 2 of the pieces". */
export function pieceInLine({ piece, piece_count: count }: FindingValue): string {
  if (count) return `on ${count} of the pieces`;
  if (!piece || piece === NOT_NOTED) return "";
  return isNumber(piece) ? `on piece ${piece}` : `on the ${piece} one`;
}

/** Whether nothing says which of several pieces a fault is on. */
export function isPieceOpen(finding: FindingValue): boolean {
  if (!finding.severity || finding.zone === SET || pieceInLine(finding)) return false;
  return !SAYS_WHICH.test(finding.note ?? "");
}
