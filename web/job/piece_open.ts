/**
 * Of what is counted as a pair or a set it is said on which of it something was found, or that nobody noted it. That
 * some of a thing have numbers of their own is no set: a pot and its cover are no pair.
 */
import type { FindingValue } from "./fields.ts";
import { piecesCounted, SET } from "./pieces.ts";
import type { RecordCopy } from "./types.ts";
import { isNumber, NOT_NOTED } from "./which_piece.ts";

/** Zones that are beside the pieces of a set, and on none of them. */
const BESIDE: readonly string[] = [
  ...[SET, "documents", "note-paper", "papers", "packaging"],
  ...["box", "box-flaps", "slipcase", "extras", "accessories"],
];
/** Words of a note that say which piece a fault is on, or may do so. The office's receipts go by the same list. */
const SAYS_WHICH = new RegExp(
  `\\b(${[
    "all|both|each|every|either|neither|other|another|odd|last|left|right",
    "one|two|three|four|five|six|first|second|third|fourth|fifth|sixth|larger|smaller|taller|shorter|\\d+",
  ].join("|")})\\b`,
  "i",
);

/** How many pieces were counted by themselves, else on the walk; 0 if nobody counted. */
export function countAlike(item: Pick<RecordCopy, "fields">): number {
  const { said, walked } = piecesCounted(item);
  return said || walked;
}

/** In the line of a receipt: "on the left one", "on piece 3", "on 2 of the pieces". */
export function pieceInLine({ piece, piece_count: count }: FindingValue): string {
  if (count) return `on ${count} of the pieces`;
  if (!piece || piece === NOT_NOTED) return "";
  return isNumber(piece) ? `on piece ${piece}` : `on the ${piece} one`;
}

/** Whether a finding is a fault of one or some of the pieces. */
export function isOfPieces({ severity, zone }: FindingValue): boolean {
  return severity > 0 && !BESIDE.includes(zone);
}

/** Whether nothing says which of several pieces a fault is on. */
export function isPieceOpen(finding: FindingValue): boolean {
  return isOfPieces(finding) && !pieceInLine(finding) && !SAYS_WHICH.test(finding.note ?? "");
}
