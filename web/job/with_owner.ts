/**
 * What of a thing is with its owner, piece by piece. A number is used once: what comes again after it went back gets a
 * fresh one, and that says that it is here, whatever the last move before it was.
 */

import type { MoveValue, TagValue } from "./fields.ts";
import { oneThing } from "./one_thing.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { instant, type Listed, listed, onceEachState } from "./values.ts";

type Fields = Pick<RecordCopy, "fields" | "doubles">;
type Made = Pick<FieldValue, "made_at">;
type Ordered = Made & { device_id: string; device_seq?: number | undefined };

/** By the clocks as they were put right. */
export function isLater(one: Made, other: Made) {
  return instant(one.made_at) > instant(other.made_at);
}

/**
 * Whether something was said after something else. What one device did has its own order, whatever its clock was set to
 * meanwhile; what an older version stored has none, and goes by the clocks.
 */
export function isSince(one: Ordered, other: Ordered) {
  const [own, before] = [one.device_seq, other.device_seq];
  const isByOne = one.device_id === other.device_id && own !== undefined && before !== undefined;
  return isByOne ? own > before : isLater(one, other);
}

/** The moves of a thing in the order in which they were made: by the clocks as they were put right, then by id. */
export function movesInOrder(thing: Fields) {
  const key = (move: { set: FieldValue; id: string }) => `${instant(move.set.made_at)} ${move.id}`;
  return [...listed(oneThing(thing), "moves/")].sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** How many pieces an item has, by what its tags say, those that are gone too. */
export function pieceCount(item: Fields) {
  return Math.max(1, ...listed(oneThing(item), "tags/").map(({ value }) => value.of ?? 1));
}

/** A field of a piece: its own, else that of the whole, unless that was set before the piece came again. */
export function fieldOfPiece(record: Fields, name: "whereabouts" | "inside", tag?: string) {
  const thing = oneThing(record);
  const { fields } = thing;
  const [own, whole] = [fields[`${name}/${tag}`], fields[name]];
  return own ?? (whole && tag && cameAgainAfter(thing, tag, whole) ? undefined : whole);
}

/** Whether a number is on what went back and came again after something befell the whole. */
function cameAgainAfter(thing: Fields, tag: string, whole: FieldValue) {
  const tied = thing.fields[`tags/${tag}`] as FieldValue<TagValue> | undefined;
  if (!tied || tied.value.gone || !isLater(tied, whole)) return false;
  return returnsOf(thing, numbersOf(thing, tied.value.piece ?? 1)).some((went) => isLater(tied, went));
}

/** Whether a number is on what is here. */
function isOnWhatIsHere(item: Fields, { gone, tag }: TagValue) {
  return !gone && !isReturn(fieldOfPiece(item, "whereabouts", tag));
}

export function isReturn(move: FieldValue | undefined) {
  return (move?.value as { to_place?: string } | undefined)?.to_place === "returned";
}

/** The numbers that are or were on a piece. */
export function numbersOf(item: Fields, piece: number): Listed<TagValue>[] {
  return listed(oneThing(item), "tags/").filter(
    ({ value }) => (value.piece ?? 1) === piece && value.gone !== "on-another-item",
  );
}

/** The moves of the whole of a thing, and where it is by the last of them. */
function movesOfAll(item: Fields): FieldValue[] {
  const ledger = listed(item, "moves/").filter(({ value }) => !value.tag);
  return [item.fields.whereabouts ?? [], ledger.map(({ set }) => set)].flat();
}

/** The moves of a piece by itself, under whichever of its numbers. */
function movesOfPiece(item: Fields, numbers: readonly Listed<TagValue>[]): FieldValue[] {
  const tags = numbers.map(({ id }) => id);
  const ledger = listed(item, "moves/").filter(({ value }) => value.tag && tags.includes(value.tag));
  const last = tags.flatMap((tag) => item.fields[`whereabouts/${tag}`] ?? []);
  return [...last.filter(({ value }) => (value as MoveValue).tag !== null), ...ledger.map(({ set }) => set)];
}

/** When a piece went back, with the whole or by itself. */
export function returnsOf(record: Fields, numbers: readonly Listed<TagValue>[]): FieldValue[] {
  const item = oneThing(record);
  return [
    ...[...movesOfAll(item), ...movesOfPiece(item, numbers)].filter(isReturn),
    ...numbers.filter(({ value }) => value.gone === "taken-back").map(({ set }) => set),
  ];
}

/**
 * Whether a piece is with its owner. One that lost its number is here, as the house answers for it, until something
 * says that it went.
 */
function isAway(item: Fields, piece: number) {
  const numbers = numbersOf(item, piece);
  if (numbers.some(({ value }) => isOnWhatIsHere(item, value))) return false;
  const last = latestOf(returnsOf(item, numbers));
  if (!last) return false;
  const moves = movesHere(item, numbers);
  // Whoever noted after it that a number is lost had the piece at hand.
  return ![...moves, ...lostOf(numbers).map(({ set }) => set)].some((since) => isLater(since, last));
}

export function latestOf(said: readonly FieldValue[]): FieldValue | undefined {
  const [first] = said;
  return said.reduce((one, other) => (one && isLater(other, one) ? other : one), first);
}

/** The moves of a piece to wherever but its owner. */
export function movesHere(record: Fields, numbers: readonly Listed<TagValue>[]): FieldValue[] {
  const item = oneThing(record);
  const ofAll = movesOfAll(item).filter((move) => bringsAll(item, move));
  return [...ofAll, ...movesOfPiece(item, numbers)].filter((move) => !isReturn(move));
}

export function lostOf(numbers: readonly Listed<TagValue>[]) {
  return numbers.filter(({ value }) => value.gone && value.gone !== "taken-back");
}

/** Whether a move of the whole was of every piece: else it is of those alone that are here, unless all came again. */
function bringsAll(item: Fields, move: FieldValue) {
  return pieceCount(item) === 1 || (move.value as MoveValue).from_place === "returned";
}

/** The pieces of an item, and which of them are with its owner. */
export const piecesOfItem = (item: RecordCopy) => piecesOfThing(oneThing(item));

const piecesOfThing = onceEachState((item) => {
  const all = new Set([
    ...Array.from({ length: pieceCount(item) }, (_, index) => index + 1),
    ...listed(item, "tags/").flatMap(({ value }) => (isOnWhatIsHere(item, value) ? (value.piece ?? 1) : [])),
  ]);
  return { all, away: [...all].filter((piece) => isAway(item, piece)) };
});

/** Which pieces of an item are with its owner. */
export function piecesAway(item: RecordCopy): readonly number[] {
  return piecesOfItem(item).away;
}

/** Which piece of a pair is the left one, as the marks on its numbers tell them apart; 0 if they do not. */
export function pieceOfSide(item: RecordCopy, side: "left" | "right"): number {
  const numbers = listed(oneThing(item), "tags/").map(({ value }) => value);
  const marked = (word: string) =>
    numbers.find(({ mark }) => mark?.toLowerCase().match(/\b(left|right)\b/)?.[0] === word)?.piece ?? 0;
  const other = marked(side === "left" ? "right" : "left");
  return marked(side) || (other && pieceCount(item) === 2 ? 3 - other : 0);
}

/** How many pieces of an item are with their owner. */
export function countBack(item: RecordCopy): number {
  return piecesOfItem(item).away.length;
}

/**
 * Whether all of it is with its owner, at once or piece by piece. There is this one answer for receipts, desk and
 * lists: a piece that lost its number counts as here, since who says that it went home has to say so.
 */
export function isBackWithOwner(item: RecordCopy): boolean {
  const { all, away } = piecesOfItem(item);
  return away.length === all.size;
}

/** The numbers on a record whose pieces are here. */
export function tagsHere(record: RecordCopy): string[] {
  const item = oneThing(record);
  return listed(item, "tags/").flatMap(({ value }) => (isOnWhatIsHere(item, value) ? value.tag : []));
}
