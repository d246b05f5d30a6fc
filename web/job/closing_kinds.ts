/**
 * The kinds of difference that a closing names, as they are called on the page, in the order in which it names them.
 */

import { fnv1a } from "./closing_code.ts";
import type { RaiseDifference, SettleDifference } from "./operations.ts";

/** What somebody raises by hand, and how it ended. */
export const DIFFERENCES: readonly (readonly [RaiseDifference["difference"], string])[] = [
  ["item-short", "An item is missing"],
  ["item-over", "An item too many"],
  ["piece-short", "A piece is missing"],
  ["tag-without-item", "A tag without its item"],
  ["item-without-tag", "An item without a tag"],
  ["seal-differs", "A seal differs, is broken or is missing"],
  ["new-damage", "New damage"],
  ["record-without-item", "A record, and the owner says it was left"],
  ["wrong-item", "The count is right, the thing is wrong"],
  ["wrong-place", "Not where the ledger says"],
  ["load-count", "Two counts of a load differ"],
];
/** What says nothing of any owner's thing yet: there is nobody to tell. */
export const OF_NO_OWNER: ReadonlySet<string> = new Set(["load-count"]);
export const ENDS: readonly (readonly [SettleDifference["ended"], string])[] = [
  ["found", "Found"],
  ["owner-has-it", "The owner has it"],
  ["matched", "Matched"],
  ["re-tagged", "Re-tagged"],
  ["moved", "Moved"],
  ["corrected", "Record corrected"],
  ["claim-opened", "A claim is opened"],
];

/** What somebody raises by hand is called on the page as it was when it was raised. */
function raised<Kind extends RaiseDifference["difference"]>(kind: Kind): readonly [Kind, string] {
  return [kind, DIFFERENCES.find(([key]) => key === kind)?.[1] ?? kind];
}

/**
 * First what happened in the hall and nobody has settled. Then what nobody can mend tomorrow, before what a desk can:
 * people who are gone by then, things, crates, their seals; what is stopped, which is locked in and stays so; what is
 * missing on record; views last. Common practice.
 */
export const KINDS = [
  ["incident", "Incidents that nobody has settled"],
  ["no-receipt", "Left without a signed receipt"],
  ["unsigned", "Taken back and not signed for"],
  ["receipt-changed", "Receipts that need a new one"],
  ["ticket-on-two", "One ticket with two owners"],
  ["visit", "Visits still open"],
  raised("record-without-item"),
  raised("item-short"),
  raised("wrong-item"),
  raised("piece-short"),
  ["pieces-apart", "Pieces in two places"],
  raised("item-over"),
  ["count", "Counted otherwise at the table"],
  ["not-moved", "Still at the table"],
  ["left-behind", "Left on the way to the store"],
  raised("item-without-tag"),
  raised("tag-without-item"),
  ["tag-on-two", "One number on two items"],
  ["tag-gone", "Tags gone and not replaced"],
  raised("new-damage"),
  raised("wrong-place"),
  raised("load-count"),
  ["load-short", "Left with a load and not come"],
  ["not-arrived", "Containers that have not arrived"],
  ["not-compared", "At the store and not compared"],
  // What nobody looked at, or went without one, stands here as well: the lines say which it is.
  ["seal-differs", "Seals that differ, or that nobody looked at"],
  ["stopped", "Stopped"],
  ["held", "Held apart"],
  ["heard-late", "Handled by somebody who had not heard of the stop"],
  ["disagreement", "Two people disagree"],
  ["one-name", "One name twice on the day's list"],
  ["one-table", "Tables of one name"],
  ["class", "No class chosen"],
  ["passed-over", "Numbers that were passed over"],
  ["zones", "Zones that nobody spoke of"],
  ["views", "Views missing"],
] as const;

export type DifferenceKind = (typeof KINDS)[number][0];

const RANKS = new Map<string, number>(KINDS.map(([kind], rank) => [kind, rank]));

/** Differences in the order of their kinds; those of one kind stay as they stand. */
export function inOrder<Named extends { kind: string }>(found: Named[]): Named[] {
  const rank = ({ kind }: Named) => RANKS.get(kind) ?? KINDS.length;
  return [...found].sort((a, b) => rank(a) - rank(b));
}

/** What a desk mends tomorrow off the records: one word for all of them is enough; each other one needs its own. */
export const OF_RECORDS: ReadonlySet<string> = new Set([
  "disagreement",
  "one-name",
  "one-table",
  "class",
  "passed-over",
  "zones",
  "views",
]);

export function needsOwnReason({ kind }: { kind: string }): boolean {
  return !OF_RECORDS.has(kind);
}

/** The kind of what is known by this. */
export function kindOf(key: string): string {
  return key.split(" ", 1)[0] ?? "";
}

/** What a difference is known by, whatever its record is called by now and whichever clock read its hours. */
export function keyOf(kind: string, record_id: string, said = ""): string {
  return `${kind} ${record_id}${said ? ` ${fnv1a(said).toString(16).padStart(8, "0")}` : ""}`;
}
