/**
 * What has changed on the things of a receipt since it was signed, as far as their owner would care: what it is, its
 * class, its numbers and pieces, its visible condition. The receipt itself stays as it was read.
 */

import { instant } from "./operation.ts";
import type { ReceiptLine } from "./operations.ts";
import { HELD_WORDS, type Receipt, receiptLine, VISIBLE } from "./receipt.ts";
import type { FieldValue, ItemRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/** Of one thing: the line that was signed, as it would read now, and what is otherwise, in words. */
export type Change = { line: ReceiptLine; now: ReceiptLine; what: string[] };
type NameOfClass = (class_id: string) => string;

/** The changes of a receipt's things since it was signed; none if nothing on it is otherwise. */
export function changesSince(
  receipt: Receipt,
  items: readonly ItemRecord[],
  nameOfClass: NameOfClass,
): Change[] {
  return receipt.lines.flatMap((line) => {
    const item = items.find(({ record_id }) => record_id === line.item_id);
    if (!item) return []; // not on this device: nothing can be said of it
    const what = changesOf(item, line, receipt, nameOfClass);
    return what.length ? [{ line, now: receiptLine(item), what }] : [];
  });
}

/** What is said here goes by what was set after the signing: another version of the app may word the same otherwise. */
function changesOf(item: ItemRecord, line: ReceiptLine, receipt: Receipt, nameOfClass: NameOfClass) {
  const since = (set: FieldValue | undefined) =>
    set !== undefined && instant(set.made_at) > instant(receipt.made_at);
  const now = receiptLine(item);
  const what: string[] = [];
  if (since(item.fields.class_id)) what.push(`its class: ${nameOfClass(fieldValue(item, "class_id") ?? "")}`);
  const name = fieldValue(item, "short_description") ?? "";
  if (since(item.fields.short_description) && nameIn(line) !== name) what.push("what it is called");
  const tags = listed(item, "tags/").filter(({ set }) => since(set));
  if (tags.length && now.tags.join() !== line.tags.join()) what.push("its numbers or pieces");
  const visible = listed(item, "findings/").filter(
    ({ value, set }) => since(set) && (value.severity >= VISIBLE || value.withdrawn),
  );
  if (visible.length && conditionIn(now) !== conditionIn(line)) what.push("its condition");
  const cautions = listed(item, "cautions/").filter(({ set }) => since(set));
  if (cautions.length && HELD.test(now.words) !== HELD.test(line.words)) what.push("that it is held apart");
  return what;
}

const HELD = new RegExp(HELD_WORDS);

/** A line begins with what the thing is called; what stands behind it are pieces and faults. */
function nameIn({ words }: ReceiptLine) {
  return words.split("; ")[0] ?? "";
}

function conditionIn({ words }: ReceiptLine) {
  return words.split("; ").slice(1).join("; ");
}
