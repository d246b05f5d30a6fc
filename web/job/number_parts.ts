/**
 * What the numbers on a thing are on: each of its pieces, all of it, or a part such as a cover that is packed apart.
 * How many pieces a thing has is counted; how many numbers it has is another count, and neither is taken for the other.
 * The office has the same rules in `intake/custody/number_parts.py`; `fixtures/number-parts.json` holds both.
 */

import type { TagValue } from "./fields.ts";
import { wordsInLine } from "./in_line.ts";
import { oneThing } from "./one_thing.ts";
import { piecesCounted } from "./pieces.ts";
import { shown } from "./tag.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed, onceEachState } from "./values.ts";
import { numbersOf, pieceCount, piecesOfItem, tagsHere } from "./with_owner.ts";

/** A number as far as it says what it is on. */
export type OnPart = { piece: number | null; of: number | null; mark?: string | null | undefined };

const numbersOn = (item: RecordCopy) => listed(oneThing(item), "tags/").map(({ value }) => value);
const isOnAll = ({ piece, of }: OnPart) => (piece ?? 1) === 1 && (of ?? 1) === 1;

const areSaidParts = (item: RecordCopy) => numbersOn(item).some(({ parts }) => parts);

function counted(item: RecordCopy): number {
  const { said, walked } = piecesCounted(item);
  return said || walked;
}

/**
 * Whether its numbers are on parts of it, as of a set of fourteen and its cover: by somebody's word, else by their
 * count. Of as many numbers as pieces each is on one, and a number that was tied to all of it is on those that have
 * none of their own. Of what nobody counted its numbers are all there is.
 */
export const isInParts = (item: RecordCopy) => areInParts(oneThing(item));

const areInParts = onceEachState((item) => {
  const [of, pieces] = [pieceCount(item), counted(item)];
  if (of > 1 && areSaidParts(item)) return true;
  if (of < 2 || !pieces || of === pieces || of === pieces + piecesOfItem(item).away.length) return false;
  return !(pieces > of && numbersOn(item).some(isOnAll));
});

/**
 * Whether its first number is on all that have none of their own, such as on six forks of which one got its number as
 * it went: that was tied to a thing in one piece. Then its numbers say nothing of how many there are.
 */
export function isUnderOne(item: RecordCopy): boolean {
  const first = numbersOn(item).find(({ gone, piece }) => !gone && (piece ?? 1) === 1);
  return first !== undefined && isOnAll(first) && piecesCounted(item).said > pieceCount(item);
}

/**
 * What a number is on: "the cover", "the rest of it", "piece 1 of 2", "piece 2 of 2 (left)"; of six under one number of
 * which one got its own "5 of 6".
 */
export function partWords(item: RecordCopy, number: OnPart): string {
  const [of, piece, mark] = [number.of ?? 1, number.piece ?? 1, wordsInLine(number.mark)];
  const numbers = pieceCount(item);
  if (isInParts(item)) {
    const standing = numbersOn(item).filter(({ gone }) => !gone);
    const isRest = standing.length > 1 && standing.filter((one) => !wordsInLine(one.mark)).length === 1;
    return mark || (isRest ? "the rest of it" : `number ${piece} of ${numbers}`);
  }
  const { said } = piecesCounted(item);
  const which = isUnderOne(item)
    ? `${piece === 1 ? said - numbers + 1 : 1} of ${said}`
    : `piece ${piece} of ${of}`;
  return mark && of > 1 ? `${which} (${mark})` : which;
}

/** What a number is on by name, where it is on a part; "" of one that nobody named. */
export function partName(item: RecordCopy, tag: string): string {
  return isInParts(item) ? wordsInLine(fieldValue(oneThing(item), `tags/${tag}`)?.mark) : "";
}

/** Which number is on which part, of those that are named and here: "the cover under 7K3-QW5". */
export function partsNamed(item: RecordCopy): string[] {
  return tagsHere(item).flatMap((tag) => {
    const name = partName(item, tag);
    return name ? `${name} under ${shown(tag)}` : [];
  });
}

/** Numbers of a thing one after the other, each with the part that it is on: "7K3-QW4, 7K3-QW5 (the cover)". */
export function numbersShown(item: RecordCopy, tags: readonly string[]): string {
  return tags
    .map((tag) => {
      const name = partName(item, tag);
      return shown(tag) + (name && ` (${name})`);
    })
    .join(", ");
}

/**
 * How many of the pieces that were counted are with their owner: as many as numbers went, but where these are on parts
 * none for a cover, and for what the list of pieces has under one line all of that.
 */
export function piecesBack(item: RecordCopy): number {
  const { away } = piecesOfItem(item);
  if (!away.length || !isInParts(item)) return away.length;
  return away.reduce((sum, piece) => {
    const went = numbersOf(item, piece).filter(({ value }) => !value.gone || value.gone === "taken-back");
    return sum + (went.length ? Math.max(...went.map(({ value }) => countOfPart(item, value))) : 1);
  }, 0);
}

/** How many of the pieces that were counted these numbers are on. */
export function piecesUnder(item: RecordCopy, tags: readonly string[]): number {
  const numbers = numbersOn(item).filter(({ tag }) => tags.includes(tag));
  return numbers.reduce((sum, number) => sum + countOfPart(item, number), 0);
}

/** How many of the pieces that were counted a number is on: by the list of them, where that has them all. */
function countOfPart(item: RecordCopy, { mark, of }: Pick<TagValue, "mark" | "of">): number {
  const words = wordsInLine(mark);
  const first = numbersOn(item).flatMap((number) => ((number.piece ?? 1) === 1 ? (number.of ?? 1) : []));
  if (first.length && (of ?? 1) > Math.max(...first)) return 1; // it was on one of them by itself, as it went
  const lines = listed(item, "listed/").flatMap(({ value }) => (value.withdrawn ? [] : value));
  const whole = lines.find((line) => line.count > 1 && wordsInLine(`${line.count} ${line.words}`) === words);
  if (whole) return whole.count;
  if (!words || lines.some((line) => wordsInLine(line.words) === words)) return 1;
  return areSaidParts(item) || lines.reduce((sum, { count }) => sum + count, 0) === counted(item) ? 0 : 1;
}
