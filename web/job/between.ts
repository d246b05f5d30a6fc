/** Two values of one field: what each side said, which is in force, and what a settlement brings into force. */

import { claimIn } from "./custody.ts";
import { NO_LISTS } from "./list_words.ts";
import type { Person, SettleDisagreement } from "./operations.ts";
import type { Disagreement, FieldValue, RecordCopy } from "./types.ts";
import { fieldWords } from "./value_words.ts";

type Choose = SettleDisagreement["choose"];

/** Whether two values are the same, in whatever order their members stand. */
export function same(a: unknown, b: unknown): boolean {
  if (typeof a !== "object" || typeof b !== "object" || !a || !b) return a === b;
  const [these, those] = [Object.entries(a), Object.entries(b)];
  const byName = new Map(those);
  return (
    these.length === those.length &&
    these.every(([name, value]) => byName.has(name) && same(value, byName.get(name)))
  );
}

/** Two values of one field, until a person settles it. */
export function between(field: string, kept: FieldValue, other: FieldValue): Disagreement {
  return { disagreement_id: other.operation_id, field, kept, other, settled: null };
}

/** The value that a settlement has yet to bring into force; null if what is there stays, as it was said or since. */
export function comesIntoForce(record: RecordCopy, between: Disagreement, choose: Choose): FieldValue | null {
  if (choose === "standing") return null;
  const current = record.fields[between.field]?.value;
  const chosen = between[choose];
  if (!between.field.startsWith("tags/")) return same(current, chosen.value) ? null : chosen;
  // What was tied to another item first comes into no record of this one; what has come off was tied as it was.
  if (choose === "kept" && claimIn(between)) return null;
  return current && same({ ...current, gone: null, replaced_by: null }, chosen.value) ? null : chosen;
}

/** The disagreements about a record that nobody has settled. */
export function unsettled({ disagreements }: Pick<RecordCopy, "disagreements">): Disagreement[] {
  return disagreements.filter(({ settled }) => !settled);
}

/** What two people said otherwise, as the middle of a sentence: of whom, where it is somebody of the day's list. */
export function contestedWords(
  { field, kept }: Pick<Disagreement, "field" | "kept">,
  lists = NO_LISTS,
): string {
  if (field === "closed") return "how the day was closed";
  if (field.startsWith("people/")) return `what the day's list says of ${(kept.value as Person).name}`;
  return fieldWords(field, lists);
}

/** What is set by moving or merging things, or once for all, and not by entering it again. */
const NOT_ENTERED: ReadonlySet<string> = new Set(["closed", "merged", "inside", "whereabouts"]);
const ENTERED = /^(people|tables|roll-holders|consignor|zones|tests|measures)\//;

/**
 * Where a settlement on the wrong one is put right, as a sentence: a field that is entered can be entered again, and
 * both values stay on record. "" of what is not; nothing brings the question itself back.
 */
export function chosenAgainWords(field: string): string {
  const isEntered = field.includes("/") ? ENTERED.test(field) : !NOT_ENTERED.has(field);
  return isEntered ? "If it was the other one, enter that again where it stands." : "";
}

/** As in intake/settling.py. */
const MOST_BESIDE = 100;

/** A settlement as its maker says it: with the operations whose values were before them. */
export function settlementOf(
  record: RecordCopy,
  { disagreement_id, field, kept }: Disagreement,
  choose: Choose,
) {
  const standing_id = record.fields[field]?.operation_id ?? null;
  const beside_ids = unsettled(record)
    .filter((other) => other.field === field && other.disagreement_id !== disagreement_id)
    .map((other) => other.disagreement_id)
    .slice(-MOST_BESIDE);
  const read = { kept_id: kept.operation_id, standing_id, beside_ids };
  return { record_id: record.record_id, disagreement_id, ...read, choose };
}

export type Side = { choose: Choose; set: FieldValue; isInForce: boolean };

/** What a person chooses from: the two values, and before them one that has come into force since. */
export function sidesOf(record: RecordCopy, between: Disagreement): Side[] {
  const current = record.fields[between.field];
  const sides = (["kept", "other"] as const).map((choose) => ({
    choose,
    set: between[choose],
    isInForce: comesIntoForce(record, between, choose) === null,
  }));
  if (!current || sides.some(({ isInForce }) => isInForce)) return sides;
  return [{ choose: "standing", set: current, isInForce: true }, ...sides];
}
