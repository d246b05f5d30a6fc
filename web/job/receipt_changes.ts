/**
 * What has changed on the things of a receipt since it was signed, as far as their owner would care: what it is, its
 * class, its numbers and pieces, its visible condition. The receipt itself stays as it was read.
 */

import { isStopped } from "./cautions.ts";
import { isReturned } from "./custody.ts";
import { instant } from "./operation.ts";
import type { ReceiptLine } from "./operations.ts";
import { tagsOf } from "./progress.ts";
import { HELD_WORDS, type Receipt, receiptLine } from "./receipt.ts";
import type { FieldValue, ItemRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/** Of one thing: the line that was signed, as it would read now, and what is otherwise, in words. */
export type Change = { line: ReceiptLine; now: ReceiptLine; what: string[] };
type NameOfClass = (class_id: string) => string;

/** The changes of a receipt's things since it was signed, those that went back apart; none if nothing is otherwise. */
export function changesSince(
  receipt: Receipt,
  items: readonly ItemRecord[],
  nameOfClass: NameOfClass,
): Change[] {
  return receipt.lines.flatMap((line) => {
    const item = items.find(({ record_id }) => record_id === line.item_id);
    if (!item || isReturned(item)) return []; // not on this device: nothing can be said of it
    const what = changesOf(item, line, receipt, nameOfClass);
    return what.length ? [{ line, now: receiptLine(item), what }] : [];
  });
}

/**
 * Another version of the app may word the same otherwise, so that a word alone is no change: it is one where something
 * was set after the signing, or on another device, which may have been heard only afterwards.
 */
function changesOf(item: ItemRecord, line: ReceiptLine, receipt: Receipt, nameOfClass: NameOfClass) {
  const since = (set: FieldValue | undefined) =>
    set !== undefined && instant(set.made_at) > instant(receipt.made_at);
  const unread = (set: FieldValue | undefined) =>
    since(set) || (set !== undefined && set.device_id !== receipt.device_id);
  const now = receiptLine(item);
  const what: string[] = [];
  if (since(item.fields.class_id)) what.push(`its class: ${nameOfClass(fieldValue(item, "class_id") ?? "")}`);
  const name = fieldValue(item, "short_description") ?? "";
  if (unread(item.fields.short_description) && !beginsWith(line, name)) what.push("what it is called");
  const tags = listed(item, "tags/").filter(({ set }) => unread(set));
  if (tags.length && tagsOf(item).join() !== line.tags.join()) what.push("its numbers or pieces");
  const back = listed(item, "whereabouts/").some(
    ({ value, set }) => since(set) && value.to_place === "returned",
  );
  if (back) what.push("a piece of it went back");
  const findings = listed(item, "findings/").filter(({ set }) => unread(set));
  if (findings.length && conditionIn(now, name) !== conditionIn(line, name)) what.push("its condition");
  const cautions = listed(item, "cautions/").filter(({ set }) => since(set));
  if (cautions.length && isStopped(item)) what.push("that it is stopped");
  else if (cautions.length && HELD.test(now.words) !== HELD.test(line.words))
    what.push("that it is held apart");
  if (since(item.fields.merged) && fieldValue(item, "merged")?.into_id)
    what.push("that it is one with another on record");
  return what;
}

const HELD = new RegExp(HELD_WORDS);

/** A line begins with what the thing is called; what stands behind it are pieces and faults. */
function beginsWith({ words }: ReceiptLine, name: string) {
  return words === name || words.startsWith(`${name}; `);
}

/** What stands behind the name, whichever it was, without the words that are said by themselves. */
function conditionIn(line: ReceiptLine, name: string) {
  const { words } = line;
  const behind = beginsWith(line, name)
    ? words.slice(name.length + 2)
    : words.split("; ").slice(1).join("; ");
  return behind
    .split("; ")
    .filter((part) => part !== HELD_WORDS)
    .join("; ");
}
