/** Whether anybody signed for one thing as it is, for a desk, which has no other things of its visit. */

import { receiptState } from "./receipt.ts";
import { changesOnAll } from "./receipt_changes.ts";
import type { ItemRecord, ThingRecord, VisitRecord } from "./types.ts";

/** What is said of it, and with how much, in words. */
export type Unsigned = { label: string; words: string };
const UNSIGNED = "Not signed for";

/** Whether nobody signed at all, not only for what changed since. */
export function isForNobody({ label }: Unsigned): boolean {
  return label === UNSIGNED;
}

/**
 * What its receipts lack of a thing, in words; none if nothing. Closing and receipt go by the same, the office by it
 * for the list’s “Not signed for” and “Changed since signed”: of a receipt the lines of this thing alone count. `byId`
 * has the containers.
 */
export function notSignedFor(
  item: ItemRecord,
  visit: VisitRecord | null | undefined,
  byId: Map<string, ThingRecord>,
  nameOfClass: (class_id: string) => string,
): Unsigned[] {
  if (!visit) return [];
  const { hereUnsigned, backUnsigned, standing } = receiptState(visit, [item], byId);
  if (backUnsigned.length)
    return [{ label: UNSIGNED, words: "it went back, and nobody has signed for that" }];
  const since = changesOnAll(standing, [item], nameOfClass).flatMap(({ what }) => what);
  return [
    ...(hereUnsigned.length ? [{ label: UNSIGNED, words: "no receipt that its owner signed names it" }] : []),
    ...(since.length
      ? [{ label: "Changed since its receipt was signed", words: [...new Set(since)].join(", ") }]
      : []),
  ];
}

/** The same in a line of what is open. */
export function openWords({ label, words }: Unsigned): string {
  return `${label[0]?.toLowerCase()}${label.slice(1)}: ${words}`;
}
