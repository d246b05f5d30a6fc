/**
 * What is otherwise on the things of a receipt than its lines say, as far as their owner would care: what it is, its
 * class, its numbers and pieces, its visible condition. What was signed stands beside what is on record now, so that no
 * clock decides, nor when it was heard of. The receipt itself stays as it was read.
 */

import { isStopped } from "./cautions.ts";
import { isReturned, piecesBack, thingName } from "./custody.ts";
import { instant } from "./operation.ts";
import type { ReceiptLine } from "./operations.ts";
import { HELD_WORDS, numbersHere, piecesWords, type Receipt, receiptLine } from "./receipt.ts";
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
    const now = receiptLine(item);
    const what = [
      classWords(item, line, receipt, nameOfClass),
      ...numberWords(item, line),
      ...(line.words && line.words !== now.words ? wordsOtherwise(item, line, now, receipt) : []), // "": erased
      fieldValue(item, "merged")?.into_id ? "that it is one with another on record" : "",
    ].filter(Boolean);
    return what.length ? [{ line, now, what }] : [];
  });
}

/** Of a receipt that says no class it is told only what that device said later, by its own order or the clocks. */
function classWords(item: ItemRecord, line: ReceiptLine, receipt: Receipt, nameOfClass: NameOfClass) {
  const { class_id } = receiptLine(item);
  const set = item.fields.class_id;
  const isOther = line.class_id === undefined ? set && isLater(set, receipt) : line.class_id !== class_id;
  return isOther ? `its class: ${class_id ? nameOfClass(class_id) || "another one" : "none"}` : "";
}

function numberWords(item: ItemRecord, line: ReceiptLine): string[] {
  const [here, back] = [numbersHere(item), piecesBack(item)];
  const signed = line.tags.filter((tag) => !back.includes(tag));
  const isSame = signed.length === here.length && signed.every((tag) => here.includes(tag));
  const wentBack = line.tags.some((tag) => back.includes(tag));
  const pieces = line.words.split("; ").find((part) => PIECES.test(part)) ?? "";
  const isCounted = !line.words || wentBack || pieces === piecesWords(item);
  return [
    wentBack ? "a piece of it went back" : "",
    isSame && isCounted ? "" : here.length || !signed.length ? "its numbers or pieces" : "its number is gone",
  ];
}

function wordsOtherwise(item: ItemRecord, line: ReceiptLine, now: ReceiptLine, receipt: Receipt): string[] {
  const name = thingName(item);
  const isHeld = HELD.test(now.words);
  const findings = listed(item, "findings/").filter(({ set }) => wasNotRead(set, receipt));
  return [
    beginsWith(line, name) ? "" : "what it is called",
    findings.length && conditionIn(now, name) !== conditionIn(line, name) ? "its condition" : "",
    isHeld === HELD.test(line.words)
      ? ""
      : isHeld && isStopped(item)
        ? "that it is stopped"
        : "that it is held apart",
  ];
}

/**
 * Another version of the app may word a fault otherwise, so that the words of the condition alone are no change: they
 * are one where a finding was said elsewhere, and may have been heard only since, or there after the signing.
 */
function wasNotRead(set: FieldValue, receipt: Receipt) {
  return set.device_id !== receipt.device_id || isLater(set, receipt);
}

/** What one device did has its own order; what an older version stored has none, and goes by the clocks. */
function isLater(set: FieldValue, receipt: Receipt) {
  const seqs = [set.device_seq, receipt.device_seq] as const;
  if (set.device_id === receipt.device_id && seqs[0] !== undefined && seqs[1] !== undefined)
    return seqs[0] > seqs[1];
  return instant(set.made_at) > instant(receipt.made_at);
}

const HELD = new RegExp(HELD_WORDS);
const PIECES = /^(\d+ (of \d+ )?pieces( here, \d+ back with the owner)?|back with the owner)$/;

/** A line begins with what the thing is called; what stands behind it are pieces and faults. */
function beginsWith({ words }: ReceiptLine, name: string) {
  return words === name || words.startsWith(`${name}; `);
}

/** The faults behind the name, whichever it was, in no order, without the words that are said by themselves. */
function conditionIn(line: ReceiptLine, name: string) {
  const { words } = line;
  const behind = beginsWith(line, name)
    ? words.slice(name.length + 2)
    : words.split("; ").slice(1).join("; ");
  return behind
    .split("; ")
    .filter((part) => part !== HELD_WORDS && !PIECES.test(part))
    .sort()
    .join("; ");
}
