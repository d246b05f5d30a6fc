/** How many pieces a thing has: as somebody counted them, on the walk, and by its numbers. */
import type { FindingValue } from "./fields.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

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

/** Whether a finding is on more pieces than are counted now, or on one that is not among them. */
export function isOnMore(item: Fields, { piece, piece_count: count }: FindingValue): boolean {
  const most = mostCounted(item);
  const isSide = piece === "left" || piece === "right";
  return most > 0 && (isSide ? most === 1 : Number(count ?? piece) > most);
}

/** A finding as it can be: on which pieces it is, is not known of what is on more than are counted, or on one alone. */
export function onCounted(item: Fields, finding: FindingValue): FindingValue {
  const isSaid = finding.piece || finding.piece_count;
  if (!isSaid || (mostCounted(item) !== 1 && !isOnMore(item, finding))) return finding;
  return { ...finding, piece: null, piece_count: null };
}

/** "a fault is on 5 of its pieces, and 3 were counted". */
export function onMoreWord(item: Fields, { piece, piece_count: count }: FindingValue): string {
  const most = mostCounted(item);
  const on = count ? `${count} of its pieces` : Number(piece) ? `piece ${piece} of it` : `the ${piece} one`;
  return `a fault is on ${on}, and ${most} ${most === 1 ? "was" : "were"} counted`;
}

/** The same of all that is on more than are counted. */
export function onMoreWords(item: Fields): string[] {
  const found = listed(item, "findings/").filter(({ value }) => !value.withdrawn && isOnMore(item, value));
  return [...new Set(found.map(({ value }) => onMoreWord(item, value)))];
}
