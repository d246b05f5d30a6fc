/** Whether a thing on which a caution stands goes home with its owner. */

import { standingCautions } from "./cautions.ts";
import { isDecided, mayBeReturned } from "./stopped.ts";
import type { CautionPack, RecordCopy } from "./types.ts";

/** Whether it was decided on every red caution that stands. */
export function isAllDecided(record: RecordCopy) {
  return standingCautions(record).every(
    ({ value, id, on }) => value.level !== "red" || isDecided(on, `caution-decisions/${id}`),
  );
}

/** Whether it may be offered that an item goes home with its owner: not if one caution that stands forbids it. */
export function mayGoHome(record: RecordCopy, pack: CautionPack) {
  return standingCautions(record).every(({ value }) => goesHome(value.hazard, pack));
}

/** Whether a row lets a thing go home with its owner; one that this pack does not have does not. */
export function goesHome(hazard: string, pack: CautionPack) {
  return pack.cautions.find((row) => row.hazard === hazard)?.goes_home ?? false;
}

/** Whether it is given back to its owner now: no row forbids it, and for what is stopped it was decided. */
export function isGivenBack(record: RecordCopy, pack: CautionPack | undefined) {
  if (!standingCautions(record).length) return true;
  return pack !== undefined && mayGoHome(record, pack) && mayBeReturned(record);
}
