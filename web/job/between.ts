/** Two values of one field: what each side said, which is in force, and what a settlement brings into force. */

import { claimIn } from "./custody.ts";
import type { SettleDisagreement } from "./operations.ts";
import type { Disagreement, FieldValue, RecordCopy } from "./types.ts";

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
