/** How many pieces a thing has: as somebody counted them, on the walk, and by its numbers. */
import type { FindingValue } from "./fields.ts";
import { piecesBack } from "./number_parts.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isBackWithOwner, pieceOfSide } from "./with_owner.ts";

type Fields = Pick<RecordCopy, "fields">;

/** The zone on which the pieces of a set are counted. */
export const SET = "set-count";

/** Each count by itself; 0 where nobody counted so. */
export function piecesCounted(item: Fields) {
  const numbers = listed(item, "tags/").map(({ value }) => value.of ?? 1);
  return {
    said: fieldValue(item, "pieces") ?? 0,
    walked: fieldValue(item, `zones/${SET}`)?.count ?? 0,
    numbered: Math.max(0, ...numbers),
  };
}

/** How many of them a number may speak of; the office refuses more, too. */
export function mostCounted(item: Fields) {
  return Math.max(...Object.values(piecesCounted(item)));
}

/** How many pieces are back with their owner while others are here: a count is of all of them, these too. */
export function backInPart(item: RecordCopy) {
  return isBackWithOwner(item) ? 0 : piecesBack(item);
}

/** How many of them are here, while others are back with their owner. */
export function mostHere(item: RecordCopy) {
  const back = backInPart(item);
  return back ? Math.max(1, mostCounted(item) - back) : mostCounted(item);
}

/**
 * Whether a finding is on more pieces than are counted now and `here`, or on one that is not among them: of a pair that
 * lost one its numbers may tell which is left.
 */
export function isOnMore(
  item: RecordCopy,
  { piece, piece_count: count }: FindingValue,
  here = mostHere(item),
): boolean {
  const most = mostCounted(item);
  if (piece === "left" || piece === "right") return here === 1 && (most === 1 || !pieceOfSide(item, piece));
  return most > 0 && (count ? count > here : Number(piece) > most);
}

/** A finding as it can be: on which pieces it is, is not known of what is on more than are counted, or on one alone. */
export function onCounted(item: RecordCopy, finding: FindingValue, here = mostHere(item)): FindingValue {
  const isSaid = finding.piece || finding.piece_count;
  const most = mostCounted(item);
  if (!isSaid) return finding;
  if (most === 1 || isOnMore(item, finding, here)) return { ...finding, piece: null, piece_count: null };
  // Of what is on all of them nobody asks which those are.
  return finding.piece_words && finding.piece_count === most ? { ...finding, piece_words: null } : finding;
}
