/** Sums of a day that must agree: what was counted is on record, and every owner has a receipt or left nothing. */

import { isWithOwner } from "./contents.ts";
import { receiptState } from "./receipt.ts";
import { changesOnAll } from "./receipt_changes.ts";
import { referredTo } from "./referred.ts";
import { isLeftAlone } from "./stopped.ts";
import type { ContainerRecord, ItemRecord, ThingRecord, VisitRecord } from "./types.ts";
import { fieldValue, groupedBy } from "./values.ts";

/**
 * What is `here`, `back`, went with whoever it was `referred` to, or is `stopped`, not decided and on no receipt, is
 * on record; `counted` is what the tables counted at unpacking, where they
 * counted.
 */
export type ThingSum = { here: number; back: number; referred: number; stopped: number; counted: number };
/**
 * Visits by what was signed of them: an `open` one has something nobody has signed for, or is not over; of one that
 * `stays` all is signed for and the owner is still here; one to `renew` has a receipt that stands, and something came
 * or changed hands after it.
 */
export type ReceiptSum = { signed: number; stays: number; renew: number; nothing: number; open: number };
export type DaySums = { things: ThingSum; receipts: ReceiptSum };

type OnDay = { visits: VisitRecord[]; items: ItemRecord[]; containers: ContainerRecord[] };

export function sumsOf({ visits, items, containers }: OnDay): DaySums {
  const standing = items.filter((item) => !fieldValue(item, "merged")?.into_id);
  const byId = new Map<string, ThingRecord>(
    [...items, ...containers].map((thing) => [thing.record_id, thing]),
  );
  const ofVisit = groupedBy(standing, ({ visit_id }) => visit_id);
  const receipts: ReceiptSum = { signed: 0, stays: 0, renew: 0, nothing: 0, open: 0 };
  let [counted, stopped] = [0, 0];
  for (const visit of visits) {
    const brought = ofVisit.get(visit.record_id) ?? [];
    counted += fieldValue(visit, "item_count") ?? brought.length;
    const state = receiptState(visit, brought, byId);
    receipts[receiptOf(visit, brought, state)] += 1;
    stopped += state.stopped.filter((item) => isLeftAlone(item) && !referredTo(item)).length;
  }
  const back = standing.filter((item) => isWithOwner(item, byId)).length;
  const referred = standing.filter(referredTo).length;
  const here = standing.length - back - referred - stopped;
  return { things: { here, back, referred, stopped, counted }, receipts };
}

function receiptOf(
  visit: VisitRecord,
  items: ItemRecord[],
  state: ReturnType<typeof receiptState>,
): keyof ReceiptSum {
  const { staying, hereUnsigned, backUnsigned, untagged, last, standing, receipts } = state;
  // As the visit's own page says, and the list of receipts that need a new one, whatever else is open of it.
  if (changesOnAll(standing, items, String).length) return "renew";
  if (untagged.length) return "open"; // nobody can sign for it yet
  if (hereUnsigned.length || backUnsigned.length) return last ? "renew" : "open";
  if (fieldValue(visit, "stage") !== "left") return receipts.length ? "stays" : "open";
  return staying.length ? "signed" : "nothing";
}

const MINUTE_MS = 60_000;
/** From here on nobody counts minutes: the day is over, or a clock is wrong. */
const LONGEST_MINUTES = 180;

/** How many whole minutes somebody has waited; null where that says nothing. */
export function minutesSince(moment: string, now: number): number | null {
  const minutes = Math.floor((now - Date.parse(moment)) / MINUTE_MS);
  return minutes >= 0 && minutes < LONGEST_MINUTES ? minutes : null;
}
