/** That nobody has signed for the thing that is open: what is sold without that may not be the house's to sell. */

import { notSignedFor } from "../../job/not_signed_for.ts";
import type { ItemRecord, ThingRecord } from "../../job/types.ts";
import { className } from "../../local/plan_book.ts";
import { Sign } from "../../parts/sign.tsx";
import { usePlanBook, useRecord, useRecords } from "../../parts/use.ts";

/** What is not signed for as it is; nothing once it is. */
export function useNotSignedFor(item: ItemRecord) {
  usePlanBook();
  const visit = useRecord("visit", item.visit_id);
  const containers = useRecords("container", item.day_id) ?? [];
  const byId = new Map<string, ThingRecord>(containers.map((container) => [container.record_id, container]));
  return notSignedFor(item, visit, byId, className);
}

export function NotSignedFor({ item }: { item: ItemRecord }) {
  return useNotSignedFor(item).map(({ label, words }) => (
    <p class="not-signed" key={label}>
      <Sign of="differs" /> <strong>{label}:</strong> {words}.
    </p>
  ));
}
