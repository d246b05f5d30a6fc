/**
 * An owner's words as the office told them at a press, of a visit whose words this device does not hold. They stand
 * beside the records of this page and on no disk, and only for as long as the record stands as it did: a correction, an
 * erasure, a visit made private and a device that is signed off take them away at once.
 */
import { signal } from "@preact/signals-core";
import { same } from "../job/between.ts";
import type { VisitRecord } from "../job/types.ts";
import { isPrivate } from "../job/values.ts";
import type { Erasures } from "./database.ts";
import { device, erasures, recordOf } from "./memory.ts";

type Told = {
  visit: VisitRecord;
  erasure: Erasures[string] | undefined;
  epoch: string | undefined;
  role: string | undefined;
};

/** Of one visit, since one entry is open. */
const told = signal<Told | null>(null);

/** How its record stands here as it is asked for, for `tell`: what is heard while the office answers counts. */
export function standsNow(visit_id: string): Omit<Told, "visit"> {
  const { epoch, role } = device.peek() ?? {};
  return { erasure: erasures.peek()[visit_id], epoch, role };
}

/** Show it as the office told it; `stood`: as it was asked for. */
export function tell(visit: VisitRecord, stood: Omit<Told, "visit">) {
  told.value = { visit, ...stood };
}

/** The visit whose owner's words are shown here; "" for none. */
export function toldVisit() {
  return told.peek()?.visit.record_id ?? "";
}

/** Show what is shown as the office tells it now; the words of a visit that was made private go. */
export function tellAgain(visit: VisitRecord, stood: Omit<Told, "visit">) {
  const known = told.peek();
  if (known?.visit.record_id !== visit.record_id) return;
  if (isPrivate(visit) && !isPrivate(known.visit)) forgetTold();
  else tell(visit, stood);
}

export function forgetTold() {
  told.value = null;
}

/** What the office told of a visit, if that is still so. */
export function toldOf(visit_id: string): VisitRecord | null {
  const known = told.value;
  const here = recordOf("visit", visit_id);
  const { revoked, epoch, role } = device.value ?? {};
  if (!known || known.visit.record_id !== visit_id || !here) return null;
  if (revoked || known.epoch !== epoch || known.role !== role) return null;
  const isAsTold = (here.office_seq ?? 0) <= (known.visit.office_seq ?? 0);
  return isAsTold && isErasedAsThen(known) ? known.visit : null;
}

/** Whether what was told is otherwise now by a correction: then whoever looks at it may see that. */
export function isCorrected(visit_id: string): boolean {
  const known = told.peek();
  const here = recordOf("visit", visit_id);
  if (!known || known.visit.record_id !== visit_id || !here || device.peek()?.revoked) return false;
  return isErasedAsThen(known) && (isPrivate(known.visit) || !isPrivate(here));
}

function isErasedAsThen({ visit, erasure }: Told) {
  return same(erasures.value[visit.record_id], erasure);
}
