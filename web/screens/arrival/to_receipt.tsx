/** The way from a visit to its receipt, with what is still to be signed. */

import { signal } from "@preact/signals-core";
import type { ItemRecord, VisitRecord } from "../../job/types.ts";
import { itemsOfVisit } from "../../local/memory.ts";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecord } from "../../parts/use.ts";

/** What is still to be signed, in words: it comes with the pack that has the receipt. Null until that is loaded. */
export const receiptWords = signal<((visit: VisitRecord, items: readonly ItemRecord[]) => string) | null>(
  null,
);

/** `leads` as the next step, in the foot of the screen; else among what the visit has. */
export function ToReceipt({ visit_id, leads }: { visit_id: string; leads?: boolean }) {
  const visit = useRecord("visit", visit_id);
  const items = itemsOfVisit(visit_id) ?? [];
  if (!visit || !items.length) return null;
  const words = receiptWords.value?.(visit, items) ?? "Show the receipt";
  const href = `#/visit/${visit_id}/receipt`;
  if (leads) return <TieOn href={href}>{words}</TieOn>;
  return (
    <section>
      <h2>Receipt</h2>
      <p>
        <a class="button" href={href}>
          {words}
        </a>
      </p>
    </section>
  );
}
