/** What stands on a receipt before what is to be signed: whose it is, and what was signed already. */

import { dateWords, dayFacts } from "../../job/day_facts.ts";
import { lineOfReturned, type Receipt } from "../../job/receipt.ts";
import type { Change } from "../../job/receipt_changes.ts";
import type { DayRecord, ItemRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, isOrAre } from "../../job/words.ts";
import { Signed } from "./receipt_signed.tsx";
import { Lines } from "./receipt_since.tsx";

export function Parties({ visit, day }: { visit: VisitRecord; day: DayRecord }) {
  const { house, place, held_on } = dayFacts(day);
  const owner = fieldValue(visit, "consignor/name");
  const acting_for = fieldValue(visit, "consignor/acting_for");
  return (
    <p class="lead">
      {house}, {place}, {dateWords(held_on)}. Ticket {fieldValue(visit, "ticket")}
      {owner ? `, ${owner}` : ""}
      {acting_for ? `, acting for ${acting_for}` : ""}.
    </p>
  );
}

export function BackWithOwner({ items }: { items: readonly ItemRecord[] }) {
  if (!items.length) return null;
  return (
    <section>
      <h2>
        Back with the owner <span class="count">{items.length}</span>
      </h2>
      <Lines lines={items.map(lineOfReturned)} back={true} />
    </section>
  );
}

type Before = {
  visit_id: string;
  receipts: Receipt[];
  laterOf: (receipt: Receipt) => Receipt | undefined;
  changes: readonly Change[];
  /** How many things stand beside the receipts once all that can be on one is signed for; null until then. */
  allSigned: number | null;
};

export function SignedBefore({ visit_id, receipts, laterOf, changes, allSigned }: Before) {
  if (!receipts.length) return null;
  return (
    <section>
      <h2>Signed</h2>
      {allSigned !== null && !changes.length && (
        <p class="lead">
          ✓ {allSigned ? "What is left with the house" : "Everything"} is signed for.
          {allSigned > 0 && ` ${countWords(allSigned, "thing")} of the visit ${isOrAre(allSigned)} not.`}
        </p>
      )}
      {receipts.map((receipt) => (
        <Signed
          visit_id={visit_id}
          key={receipt.id}
          changes={changes.filter(({ receipt_id }) => receipt_id === receipt.id)}
          receipt={receipt}
          later={laterOf(receipt)}
        />
      ))}
    </section>
  );
}
