/** Tying a number: which piece it is for, and whether it may be tied. */

import { holdingCautions } from "../../job/cautions.ts";
import { thingName, thingWith } from "../../job/custody.ts";
import type { TagValue } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { isInParts, partWords } from "../../job/number_parts.ts";
import { oneThing } from "../../job/one_thing.ts";
import { OWNER } from "../../job/operation.ts";
import { countAlike } from "../../job/piece_open.ts";
import { shown, TagError } from "../../job/tag.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { pieceCount, piecesAway, tagsHere } from "../../job/with_owner.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { usedBefore } from "../../parts/with_words.ts";

export type TagGiven = {
  item: ItemRecord;
  day: DayRecord | null;
  items: ItemRecord[];
  containers: ContainerRecord[];
};

/** A number that fell off or was lost, and has no other in its place yet. */
export function isLost({ gone, replaced_by }: TagValue) {
  return gone !== null && gone !== "taken-back" && !replaced_by;
}

/** `taken_by`: who takes it from its owner, where it comes again. */
type Tying = Omit<TagGiven, "day"> & { lost: TagValue | undefined; mark: string; taken_by: string };

/** Which piece the next number is for: the one whose number is lost, else the first without one, here or come again. */
export function nextPiece(item: ItemRecord, lost: TagValue | undefined): number {
  if (lost) return lost.piece;
  const here = tagsHere(item);
  const numbered = new Set(
    listed(oneThing(item), "tags/").flatMap(({ value }) => (here.includes(value.tag) ? value.piece : [])),
  );
  const of = pieceCount(item);
  const without = Array.from({ length: of }, (_, index) => index + 1).filter((piece) => !numbered.has(piece));
  const away = piecesAway(item);
  return without.find((piece) => !away.includes(piece)) ?? without[0] ?? of;
}

/**
 * What the next number is for, in words; of one that is for a part what was said of it, which is asked for where
 * another has no name either.
 */
export function nextFor(item: ItemRecord, lost: TagValue | undefined, mark: string) {
  const [piece, of] = [nextPiece(item, lost), pieceCount(item)];
  if (of < 2) return { whose: "this item", isToName: false };
  if (!isInParts(item)) return { whose: partWords(item, { piece, of }), isToName: false };
  const standing = listed(oneThing(item), "tags/").filter(({ value }) => !value.gone);
  const isOtherBare = standing.some(({ value }) => !value.mark?.trim());
  return { whose: mark || (isOtherBare ? "a part of it" : "the rest of it"), isToName: isOtherBare && !mark };
}

/** That each number of it is tied. */
export function allTied(item: ItemRecord) {
  const of = pieceCount(item);
  if (of < 2) return "Its number is tied.";
  return isInParts(item) ? `Its ${of} numbers are tied.` : `Each of the ${of} pieces has its number.`;
}

/** How many are not. */
export function leftWords(item: ItemRecord, without: number) {
  const of = pieceCount(item);
  return isInParts(item) ? `${without} of ${of} numbers not tied` : `${without} of ${of} pieces without one`;
}

/** Why a number cannot be tied to an item now, and what to do; "" if it can. */
export function whyNotTied(
  tag: string,
  { item, items, containers, lost }: Omit<Tying, "mark" | "taken_by">,
  piece = nextPiece(item, lost),
): string {
  const other = thingWith(tag, items, containers);
  if (other && other.record_id !== item.record_id)
    return (
      `${shown(tag)} is tied to “${thingName(other)}” already. ` +
      "Take a fresh tag; look at both items if this one was on it."
    );
  const here = fieldValue(item, `tags/${tag}`);
  if (here?.gone)
    return `${shown(tag)} was on this item and is gone. A number never comes back: take a fresh tag.`;
  if (here && here.piece !== piece)
    return `${shown(tag)} is on ${partWords(item, here)} already: take a fresh tag.`;
  return (!here && usedBefore.value?.(tag)) || "";
}

/** Tie a number, in the place of a lost one if there is one. Throws TagError if it is or was on anything. */
export async function tieTag(tag: string, { mark, taken_by, ...given }: Tying) {
  const { item, lost } = given;
  const item_id = item.record_id;
  const against = whyNotTied(tag, given);
  if (against) throw new TagError("tag_taken", against);
  const [piece, of] = [nextPiece(item, lost), pieceCount(item)];
  const isAgain = countAlike(item) > 2 && piecesAway(item).includes(piece) && !holdingCautions(item).length;
  if (!fieldValue(item, `tags/${tag}`)) await keep("tie_tag", { item_id, tag, piece, of, mark });
  if (isAgain) await keep("record_move", { ...cameFromOwner(item_id, tag), taken_by });
  if (lost?.gone) await keep("remove_tag", { item_id, tag: lost.tag, why: lost.gone, replaced_by: tag });
}

/** Who is at this device; the device, while nobody has chosen a name on it. */
export function whoIs(day: DayRecord | null, device: ThisDevice | null | undefined): string {
  const person = day && listed(day, "people/").find(({ id }) => id === device?.person_id);
  return person?.value.name ?? device?.name ?? "";
}

/** Of a set under one number: else a second number for one place would be that of another piece that went back. */
function cameFromOwner(thing_id: string, tag: string) {
  const moved = { from_place: "returned", to_place: "table", at: "", given_by: OWNER } as const;
  return { move_id: newId(), thing_id, ...moved, count: 1, signed: false, tag };
}
