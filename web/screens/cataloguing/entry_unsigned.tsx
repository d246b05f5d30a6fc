/** That nobody has signed for the thing that is open: what is sold without that may not be the house's to sell. */

import { notSignedFor } from "../../job/not_signed_for.ts";
import type { ItemRecord, ThingRecord, VisitRecord } from "../../job/types.ts";
import { Sign } from "../../parts/sign.tsx";
import { useRecords } from "../../parts/use.ts";

export function NotSignedFor({ item, visit }: { item: ItemRecord; visit: VisitRecord | null }) {
  const containers = useRecords("container", item.day_id) ?? [];
  const byId = new Map<string, ThingRecord>(containers.map((container) => [container.record_id, container]));
  const words = notSignedFor(item, visit, byId);
  if (!words) return null;
  return (
    <p class="not-signed">
      <Sign of="differs" /> <strong>Not signed for:</strong> {words}.
    </p>
  );
}
