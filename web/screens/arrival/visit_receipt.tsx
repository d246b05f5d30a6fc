/** The way from a visit to its receipt, with what is still to be signed. */

import { receiptState } from "../../job/receipt.ts";
import { changesSince } from "../../job/receipt_changes.ts";
import type { ItemRecord, VisitRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { itemsOfVisit } from "../../local/memory.ts";
import { useRecord } from "../../parts/use.ts";

export function ToReceipt({ visit_id }: { visit_id: string }) {
  const visit = useRecord("visit", visit_id);
  const items = itemsOfVisit(visit_id) ?? [];
  if (!visit || !items.length) return null;
  return (
    <section>
      <h2>Receipt</h2>
      <p>
        <a class="button" href={`#/visit/${visit_id}/receipt`}>
          {receiptWords(visit, items)}
        </a>
      </p>
    </section>
  );
}

/** What is still to be signed, on the way to the receipt. */
function receiptWords(visit: VisitRecord, items: readonly ItemRecord[]) {
  const { receipts, hereUnsigned, backUnsigned, last } = receiptState(visit, items, new Map());
  if (backUnsigned.length) return `Sign for ${countWords(backUnsigned.length, "thing")} taken back`;
  const changed = last ? changesSince(last, items, String).length : 0;
  if (!hereUnsigned.length && changed)
    return `Signed; ${countWords(changed, "thing")} changed since: show the receipt`;
  if (!hereUnsigned.length)
    return receipts.length ? "Signed: show the receipt" : "Nothing to sign for yet: show the list";
  return receipts.length
    ? "The list has changed: sign anew"
    : `Show and sign for ${countWords(hereUnsigned.length, "thing")}`;
}
