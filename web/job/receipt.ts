/**
 * What a receipt lists, and what nobody has signed for yet: read off the records, so that it can be signed with no
 * network.
 */

import { holdingCautions, isStopped } from "./cautions.ts";
import { pieceCount, thingName, whereIs } from "./custody.ts";
import type { ReceiptValue } from "./fields.ts";
import { beginning } from "./kinds_read.ts";
import type { ReceiptLine } from "./operations.ts";
import { tagsOf, zoneName } from "./progress.ts";
import { isLeftAlone, mayBeReturned } from "./stopped.ts";
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
  signed_by: string;
  strokes: string;
  is_here: boolean;
};

/** What one line of a receipt holds, in characters. */
const MOST_WORDS = 400;
/** From this severity on a fault stands on the receipt. */
const VISIBLE = 2;

export const HELD_WORDS = "held apart, as the owner was told";

/** One item by words with which a stranger could match it: what it is, its pieces, its main faults. */
export function receiptLine(item: ItemRecord): ReceiptLine {
  const tagValues = listed(item, "tags/").map(({ value }) => value);
  const of = pieceCount(item);
  const faults = listed(item, "findings/")
    .map(({ value }) => value)
    .filter((finding) => !finding.withdrawn && finding.severity >= VISIBLE)
    .map((finding) => `${spaced(finding.term)}, ${zoneName(finding.zone)}`);
  const words = [
    thingName(item),
    of > 1 ? `${of} pieces` : "",
    ...faults,
    holdingCautions(item).length ? HELD_WORDS : "",
  ]
    .filter(Boolean)
    .join("; ");
  const tags = tagsOf(item);
  return {
    item_id: item.record_id,
    tags: tags.length ? [...tags] : tagValues.map((tag) => tag.tag),
    words: beginning(words, MOST_WORDS),
  };
}

/** The signed receipts of a visit, the oldest first. */
export function receiptsOf(visit: VisitRecord): Receipt[] {
  return listed(visit, "receipts/")
    .map(({ id, value, set }) => ({
      id,
      ...value,
      made_at: set.made_at,
      device_id: set.device_id,
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
 * stays on it, whatever became of it since. `items` may be all of the day.
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
  const receipts = receiptsOf(visit);
  const named = (receipt: Receipt | undefined, item: RecordCopy) =>
    Boolean(receipt?.lines.some((line) => line.item_id === item.record_id));
  const last = receipts.findLast((receipt) => receipt.what === "left");
  const onLast = (item: RecordCopy) => named(last, item);
  const isOutOfHand = (item: RecordCopy) =>
    isLeftAlone(item) || (!tagsOf(item).length && isStopped(item) && !mayBeReturned(item));
  const stopped = recorded.filter((item) => !back.includes(item) && !onLast(item) && isOutOfHand(item));
  const here = recorded.filter(
    (item) => !back.includes(item) && !isOutOfHand(item) && tagsOf(item).length > 0,
  );
  return {
    recorded,
    here,
    back,
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
