/** Whether anybody signed for one thing as it is, for a desk, which has no other things of its visit. */

import { receiptState } from "./receipt.ts";
import type { ItemRecord, ThingRecord, VisitRecord } from "./types.ts";

/**
 * What its receipts lack of a thing, in words; "" if nothing. Closing and receipt go by the same, and the office by it
 * for the list's “Not signed for”: of a receipt the lines of this thing alone count. `byId` has the containers.
 */
export function notSignedFor(
  item: ItemRecord,
  visit: VisitRecord | null | undefined,
  byId: Map<string, ThingRecord>,
): string {
  if (!visit) return "";
  const { hereUnsigned, backUnsigned } = receiptState(visit, [item], byId);
  if (backUnsigned.length) return "it went back, and nobody has signed for that";
  return hereUnsigned.length ? "no receipt that its owner signed names it" : "";
}
