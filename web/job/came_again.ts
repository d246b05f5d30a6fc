/** What went back to its owner and came again, for receipts: under which numbers, and since which of them. */

import { oneThing } from "./one_thing.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import {
  isLater,
  isReturn,
  latestOf,
  lostOf,
  movesHere,
  movesInOrder,
  numbersOf,
  piecesOfItem,
  returnsOf,
} from "./with_owner.ts";

/** The numbers under which the pieces that are with their owner went. */
export function tagsBack(item: RecordCopy): string[] {
  return piecesOfItem(item).away.flatMap((piece) => {
    const numbers = numbersOf(item, piece);
    const voided = numbers.filter(({ value }) => value.gone === "taken-back");
    const went = numbers.filter(({ value }) => !value.gone || value.gone === "taken-back");
    // What came again and lost its number then went under that, though it was off.
    const lost = lostOf(numbers);
    const last = latestOf(lost.map(({ set }) => set));
    const isSince = last && voided.every(({ set }) => isLater(last, set)) && went.length === voided.length;
    return (isSince ? lost.filter(({ set }) => set === last) : went).map(({ id }) => id);
  });
}

/**
 * Whether a piece that is here went back after it was signed for under these numbers, if any; `isSince` says whether
 * something was said after that. A number that is void went back after all that names it, and one that was tied after a
 * return is on what had come again, whatever the clock of who signed says.
 */
export function cameAgainSince(
  item: RecordCopy,
  signed: readonly string[],
  isSince: (set: FieldValue) => boolean,
): boolean {
  const { all, away } = piecesOfItem(item);
  return [...all].some((piece) => {
    if (away.includes(piece)) return false;
    const numbers = numbersOf(item, piece);
    const named = numbers.filter(({ id }) => signed.includes(id));
    const returns = returnsOf(item, numbers);
    const last = latestOf(returns);
    if (!last || named.some(({ value }) => value.gone === "taken-back")) return Boolean(last);
    if (named.some(({ set }) => isLater(set, last))) return false;
    if (returns.some(isSince)) return true;
    // It was away when the others were signed for, if nothing from before that says that it was here.
    const here = [...movesHere(item, numbers), ...lostOf(numbers).map(({ set }) => set)];
    const isKnownHere = here.some((set) => isLater(set, last) && !isSince(set));
    return !named.length && !isKnownHere && numbers.some(({ set }) => isLater(set, last) && isSince(set));
  });
}

/** What says that the piece with a number came again after it went back: a move, or that a number was lost since. */
export function cameAgainBy(record: RecordCopy, tag: string): FieldValue[] {
  const item = oneThing(record);
  const piece = fieldValue(item, `tags/${tag}`)?.piece ?? 1;
  const moves = movesInOrder(item).filter(({ value }) => !value.tag || value.tag === tag);
  const went = moves.findIndex(({ set }) => isReturn(set));
  const again = went < 0 ? [] : moves.slice(went).filter(({ set }) => !isReturn(set));
  const lost = lostOf(numbersOf(item, piece)).filter(({ id }) => id !== tag);
  const sets = [...again, ...lost].map(({ set }) => set);
  const tied = item.fields[`tags/${tag}`];
  const isVoid = fieldValue(item, `tags/${tag}`)?.gone === "taken-back";
  return isVoid && tied ? sets.filter((set) => isLater(tied, set)) : sets; // once it is void it does not come again
}
