/** The way from a visit to its receipt, with what is still to be signed. */

import { signal } from "@preact/signals-core";
import type { ItemRecord, VisitRecord } from "../../job/types.ts";
import { itemsOfVisit } from "../../local/memory.ts";
import { useRecord } from "../../parts/use.ts";

/** What is still to be signed, in words: it comes with the pack that has the receipt. Null until that is loaded. */
export const receiptWords = signal<((visit: VisitRecord, items: readonly ItemRecord[]) => string) | null>(
  null,
);

export function ToReceipt({ visit_id }: { visit_id: string }) {
  const visit = useRecord("visit", visit_id);
  const items = itemsOfVisit(visit_id) ?? [];
  if (!visit || !items.length) return null;
  return (
    <section>
      <h2>Receipt</h2>
      <p>
        <a class="button" href={`#/visit/${visit_id}/receipt`}>
          {receiptWords.value?.(visit, items) ?? "Show the receipt"}
        </a>
      </p>
    </section>
  );
}
