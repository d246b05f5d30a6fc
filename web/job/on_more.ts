/** What was found on more pieces than are counted now, or are here, and a count that may lack what went. */
import type { FindingValue } from "./fields.ts";
import { isOnPieceAway } from "./piece_away.ts";
import { backInPart, isOnMore, mostCounted, mostHere } from "./pieces.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isBackWithOwner, isLater, latestOf, numbersOf, piecesAway, returnsOf } from "./with_owner.ts";
import { isOrAre } from "./words.ts";

/** A finding, and when it was said. */
type Said = { value: FindingValue; set: Pick<FieldValue, "made_at"> };

/**
 * Whether so many of its pieces had a fault before some went back as are here still: nobody can tell whether those are
 * among them, until it is said anew.
 */
export function mayHaveGone(item: RecordCopy, { value, set }: Said) {
  const { piece_count: count, severity } = value;
  if (!count || !severity || !backInPart(item) || count === mostCounted(item)) return false;
  if (isOnPieceAway(item, value)) return false;
  const went = lastReturn(item);
  return Boolean(went && isLater(went, set));
}

/** "a fault is on 5 of its pieces, and 3 were counted", "and 1 is here". */
export function onMoreWord(item: RecordCopy, { piece, piece_count: count }: FindingValue): string {
  const [most, here] = [mostCounted(item), mostHere(item)];
  const on = count ? `${count} of its pieces` : Number(piece) ? `piece ${piece} of it` : `the ${piece} one`;
  const isOfHere = here < most && !Number(piece) && (count ?? 0) <= most;
  if (isOfHere && (count ?? 0) <= here && count)
    return `a fault is on ${on}, and nobody noted whether ${count === 1 ? "it is" : "those are"} here`;
  if (isOfHere) return `a fault is on ${on}, and ${count ? `${here} ${isOrAre(here)} here` : WHICH_STAYED}`;
  return `a fault is on ${on}, and ${most} ${most === 1 ? "was" : "were"} counted`;
}

const WHICH_STAYED = "nobody noted which one is here";

/** What said last of the pieces that are with their owner that one of them went. */
function lastReturn(item: RecordCopy): FieldValue | undefined {
  return latestOf(piecesAway(item).flatMap((piece) => returnsOf(item, numbersOf(item, piece))));
}

/** How many of the pieces that are with their owner went before something was said. */
export function backBefore(item: RecordCopy, said: FieldValue): number {
  return piecesAway(item).filter((piece) => {
    const last = latestOf(returnsOf(item, numbersOf(item, piece)));
    return last && !isLater(last, said);
  }).length;
}

/** How many more were back with their owner as the pieces were counted than their counter had heard of. */
export function backUnheard(item: RecordCopy) {
  const { pieces, "pieces-back": known } = item.fields;
  if (!pieces || pieces.operation_id !== known?.operation_id || isBackWithOwner(item)) return 0;
  return Math.max(0, backBefore(item, pieces) - (known.value as number));
}

/** The same of all that is on more than are counted, or that may have gone, and of a count that may lack what went. */
export function onMoreWords(item: RecordCopy): string[] {
  const found = listed(item, "findings/").filter(
    (one) => !one.value.withdrawn && (isOnMore(item, one.value) || mayHaveGone(item, one)),
  );
  const words = [...new Set(found.map(({ value }) => onMoreWord(item, value)))];
  const unheard = backUnheard(item);
  if (!unheard) return words;
  const gone = `${unheard} ${isOrAre(unheard)} back with the owner`;
  return [...words, `${fieldValue(item, "pieces")} pieces were counted where nobody had heard that ${gone}`];
}
