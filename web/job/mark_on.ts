/** Which marks stand on which zone. */
import type { MarkValue } from "./fields.ts";
import { zoneOf } from "./places.ts";
import type { Plan, RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

export const ANY = "any";

/** By which words a mark is known for what stands on a zone; none where nothing that stands there is copied. */
export function wordingOf(plan: Plan, key: string): string[] {
  return plan.zones.find(({ zone }) => zone === zoneOf(key))?.wording ?? [];
}

/** Whether a mark is what stands on a zone: any is, or one of a technique, or one in whose place such a word stands. */
export function isCopyOf(wording: string[], { technique, place }: MarkValue) {
  return wording.some((word) => word === ANY || word === technique || place.toLowerCase().includes(word));
}

/** Whether a mark that stands on a zone is on record: of that zone something was noted. */
export function isMarkNoted(plan: Plan, record: RecordCopy, key: string): boolean {
  const wording = wordingOf(plan, key);
  return listed(record, "marks/").some(({ value }) => !value.withdrawn && isCopyOf(wording, value));
}
