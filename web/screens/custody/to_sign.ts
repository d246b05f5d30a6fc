/** What of a visit is still to be signed, on the way to its receipt. */

import { receiptState } from "../../job/receipt.ts";
import { changesOnAll, countChanged, isPieceBack } from "../../job/receipt_changes.ts";
import type { ItemRecord, VisitRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";

export function toSignWords(visit: VisitRecord, items: readonly ItemRecord[]) {
  const { receipts, hereUnsigned, backUnsigned, standing } = receiptState(visit, items, new Map());
  if (backUnsigned.length) return `Sign for ${countWords(backUnsigned.length, "thing")} taken back`;
  const changes = changesOnAll(standing, items, String);
  if (isPieceBack(changes)) return "A piece went back: sign anew";
  const changed = countChanged(changes);
  if (!hereUnsigned.length && changed)
    return `Signed; ${countWords(changed, "thing")} changed since: show the receipt`;
  if (!hereUnsigned.length)
    return receipts.length ? "Signed: show the receipt" : "Nothing to sign for yet: show the list";
  return receipts.length
    ? "The list has changed: sign anew"
    : `Show and sign for ${countWords(hereUnsigned.length, "thing")}`;
}
