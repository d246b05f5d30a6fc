/** The owner at this table: the one card that is in hand, with the edge of each thing and what is left. */

import type { VisitRecord } from "../../job/types.ts";
import { brought, fieldValue, ownerWords } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { countWords } from "../../job/words.ts";
import { itemsOfVisit } from "../../local/memory.ts";
import { gapsOf } from "../../parts/gaps.ts";
import { clockWords } from "../../parts/moments.ts";
import { labelOf } from "../../parts/next_step.tsx";
import { Sign } from "../../parts/sign.tsx";
import { useSelected } from "../../parts/use.ts";
import { ItemRows } from "./item_rows.tsx";
import { Needs } from "./today_visits.tsx";

export function AtYourTable({ visit }: { visit: VisitRecord }) {
  const items = itemsOfVisit(visit.record_id) ?? [];
  const counted = fieldValue(visit, "item_count");
  return (
    <section class="card in-hand">
      <h2 class="at-table">
        At your table now
        <span>
          <Sign of="clock" /> came {clockWords(visit.opened_at)}
        </span>
      </h2>
      <a class="owner" href={`#/visit/${visit.record_id}`}>
        <strong>{fieldValue(visit, "ticket")}</strong> <span class="read">{ownerWords(visit)}</span>
      </a>
      {brought(visit) && <p>{brought(visit)}</p>}
      <Needs of={visit} />
      <p class="hint">
        {counted ? `${countWords(counted, "thing")} counted at unpacking, ` : ""}
        {items.length} on the record
      </p>
      <ItemRows items={items} />
    </section>
  );
}

/** The label that goes on with the thing that was begun last and is not done; null if there is none. */
export function useWhereItStopped(visit_ids: readonly string[]) {
  return useSelected(() => {
    const items = visit_ids.flatMap((visit_id) => itemsOfVisit(visit_id) ?? []);
    for (const item of items.reverse()) {
      const gap = !isBackWithOwner(item) && gapsOf(item).find(({ at }) => at);
      if (gap) return labelOf(item, gap, "Go on");
    }
    return null;
  }, [visit_ids.join()]);
}
