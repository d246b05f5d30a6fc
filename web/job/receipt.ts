/**
 * What a receipt lists, and what nobody has signed for yet: read off the records, so that it can be signed with no
 * network.
 */

import { holdingCautions, isStopped } from "./cautions.ts";
import { isBackWithOwner, pieceCount, piecesBack, thingName, whereIs } from "./custody.ts";
import type { ReceiptValue } from "./fields.ts";
import { beginning } from "./kinds_read.ts";
import type { ReceiptLine } from "./operations.ts";
import { tagsOf, zoneName } from "./progress.ts";
import { isLeftAlone, isStoppedFor, mayBeReturned } from "./stopped.ts";
import type { ItemRecord, RecordCopy, ThingRecord, VisitRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { spaced } from "./words.ts";

/**
 * `is_here` says whether the signature is on this device; else it is asked of the office where a receipt is read back.
 */
export type Receipt = ReceiptValue & {
  id: string;
  made_at: string;
  device_id: string;
  /** Its place in that device's own order, as `FieldValue` has it. */
  device_seq?: number | undefined;
  signed_by: string;
  strokes: string;
  is_here: boolean;
};

/** What one line of a receipt holds, in characters. */
const MOST_WORDS = 400;
/** From this severity on a fault stands on the receipt. */
const VISIBLE = 2;

export const HELD_WORDS = "held apart, as the owner was told";

/**
 * One item by words with which a stranger could match it: what it is, its pieces, its main faults; and under the
 * numbers that are on it. Of one whose pieces went back in part it says what stays.
 */
export function receiptLine(item: ItemRecord): ReceiptLine {
  const faults = listed(item, "findings/")
    .map(({ value }) => value)
    .filter((finding) => !finding.withdrawn && finding.severity >= VISIBLE)
    .map((finding) => `${spaced(finding.term)}, ${zoneName(finding.zone)}`);
  const held = holdingCautions(item).length ? HELD_WORDS : "";
  return lineOf(item, numbersHere(item), [piecesWords(item), ...faults, held]);
}

/** What went back as a line: under the numbers that it had; of what went back in part, those pieces alone. */
export function lineOfReturned(item: ItemRecord): ReceiptLine {
  const pieces = piecesBack(item);
  if (pieces.length) return lineOf(item, pieces, [piecesOf(pieces.length, pieceCount(item))]);
  const tied = tagsOf(item);
  const had = listed(item, "tags/").map(({ value }) => value.tag);
  return { ...receiptLine(item), tags: tied.length ? [...tied] : had };
}

const piecesOf = (count: number, of: number) => (of > 1 ? `${count} of ${of} pieces` : "");

function lineOf(item: ItemRecord, tags: string[], behind: readonly string[]): ReceiptLine {
  return {
    item_id: item.record_id,
    tags,
    words: beginning([thingName(item), ...behind].filter(Boolean).join("; "), MOST_WORDS),
    class_id: beginning(fieldValue(item, "class_id") ?? "", MOST_WORDS) || null,
  };
}

/** The numbers on an item whose pieces are here. */
export function numbersHere(item: ItemRecord): string[] {
  const back = piecesBack(item);
  return tagsOf(item).filter((tag) => !back.includes(tag));
}

/** How many pieces are here; of one piece nothing is said. */
export function piecesWords(item: ItemRecord): string {
  const of = pieceCount(item);
  const back = piecesBack(item).length;
  if (back)
    return back >= of
      ? "back with the owner"
      : `${of - back} of ${of} pieces here, ${back} back with the owner`;
  return of > 1 ? `${of} pieces` : "";
}

/** Whether a number that was signed for is gone, and a piece that is here has none in its place. */
function hasLostNumber(item: ItemRecord, { tags }: ReceiptLine): boolean {
  const [here, back] = [numbersHere(item), piecesBack(item)];
  const isGone = !here.length || tags.some((tag) => !here.includes(tag) && !back.includes(tag));
  return isGone && here.length < pieceCount(item) - back.length;
}

/** The signed receipts of a visit, the oldest first. */
export function receiptsOf(visit: VisitRecord): Receipt[] {
  return listed(visit, "receipts/")
    .map(({ id, value, set }) => ({
      id,
      ...value,
      made_at: set.made_at,
      device_id: set.device_id,
      device_seq: set.device_seq,
      is_here: fieldValue(visit, `consignor/signatures/${id}`) !== undefined,
      signed_by: "",
      strokes: "",
      ...fieldValue(visit, `consignor/signatures/${id}`),
    }))
    .sort((a, b) => a.id.localeCompare(b.id));
}

/**
 * A visit's items, those here under a number and those that went back, and which of them no receipt names. What has no
 * number is not left with the house, and on no receipt; nor is what a red caution stops and nobody has decided on,
 * since the house may not take it in, or what it stops and never got a number: others have it. What the last one names
 * and is still here stays on it and on the next, whatever became of it since: `staying` is what the next one lists, and
 * `toTie` what of it needs a number first, since that which was signed for is gone. `items` may be all of the day.
 */
export function receiptState(
  visit: VisitRecord,
  items: readonly ItemRecord[],
  byId: Map<string, ThingRecord>,
) {
  const recorded = items.filter(
    (item) => item.visit_id === visit.record_id && !fieldValue(item, "merged")?.into_id,
  );
  const back = recorded.filter((item) => whereIs(item, byId).place === "returned");
  const isBack = (item: ItemRecord) => back.includes(item) || isBackWithOwner(item);
  const receipts = receiptsOf(visit);
  const named = (receipt: Receipt | undefined, item: RecordCopy) =>
    Boolean(receipt?.lines.some((line) => line.item_id === item.record_id));
  const last = receipts.findLast((receipt) => receipt.what === "left");
  const onLast = (item: RecordCopy) => named(last, item);
  const signedFor = (item: RecordCopy) => last?.lines.find((line) => line.item_id === item.record_id);
  const isOutOfHand = (item: RecordCopy) =>
    isLeftAlone(item) || (!tagsOf(item).length && isStopped(item) && !mayBeReturned(item));
  const stopped = recorded.filter((item) => !back.includes(item) && !onLast(item) && isOutOfHand(item));
  const here = recorded.filter(
    (item) => !back.includes(item) && !isOutOfHand(item) && tagsOf(item).length > 0,
  );
  const staying = recorded.filter((item) => !isBack(item) && (here.includes(item) || onLast(item)));
  return {
    recorded,
    here,
    staying,
    toTie: staying.filter((item) => {
      const line = signedFor(item);
      return line && hasLostNumber(item, line) && !isStoppedFor(item, "tie_tag", () => true);
    }),
    back,
    backInPart: recorded.filter((item) => !back.includes(item) && piecesBack(item).length > 0),
    receipts,
    last,
    stopped,
    untagged: recorded.filter(
      (item) => !back.includes(item) && !isOutOfHand(item) && !tagsOf(item).length && !onLast(item),
    ),
    hereUnsigned: here.filter((item) => !onLast(item)),
    backUnsigned: back.filter(
      (item) =>
        listed(item, "tags/").length > 0 &&
        !fieldValue(item, "whereabouts")?.signed &&
        !receipts.some((receipt) => receipt.what === "taken-back" && named(receipt, item)),
    ),
  };
}
