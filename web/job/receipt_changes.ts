/**
 * What is otherwise on the things of a receipt than its lines say, as far as their owner would care: what it is, its
 * class, its numbers and pieces, its visible condition. What was signed stands beside what is on record now, so that no
 * clock decides, nor when it was heard of. The receipt itself stays as it was read.
 */

import { tagsBack } from "./came_again.ts";
import { isStopped, sameThing } from "./cautions.ts";
import { COUNTS } from "./counted_things.ts";
import { failedTrials } from "./failed_trials.ts";
import type { FindingValue } from "./fields.ts";
import { foundByHouse, foundInWords } from "./found_by_house.ts";
import { piecesBack } from "./number_parts.ts";
import type { ReceiptLine } from "./operations.ts";
import {
  cameAgain,
  faultAsListed,
  faultInFigures,
  faultInLine,
  faultName,
  faultNamed,
  faultOnBareSide,
  faultOnIt,
  faultWords,
  HELD_FORMERLY,
  HELD_WORDS,
  isVisible,
  lineWithAllFaults,
  nameInLine,
  numbersHere,
  OPEN_PIECE,
  OPEN_WORDS,
  piecesBefore,
  piecesWords,
  type Receipt,
  receiptLine,
  SLIGHT_WORDS,
  slightSince,
} from "./receipt.ts";
import { FAILED } from "./receipt_failed.ts";
import { saidTakenAway } from "./referred.ts";
import type { DayRecord, ItemRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isBackWithOwner, isSince } from "./with_owner.ts";

/**
 * Of one thing: the line that was signed, as it would read now, what the thing is called, and what is otherwise;
 * `taken_at` is when it was said that an authority took it away: then it reads as nothing now.
 */
export type Change = {
  receipt_id: string;
  line: ReceiptLine;
  now: ReceiptLine;
  name: string;
  what: string[];
  taken_at?: string;
};
const PIECE_BACK = "a piece of it went back";

/** Whether the owner took a piece of what they signed for: what stays is signed for anew, as they stand there. */
export function isPieceBack(changes: readonly Change[]): boolean {
  return changes.some(({ what }) => what.includes(PIECE_BACK));
}

type NameOfClass = (class_id: string) => string;

/** The changes on each of the receipts that stand. */
export function changesOnAll(
  standing: readonly Receipt[],
  items: readonly ItemRecord[],
  nameOfClass: NameOfClass,
): Change[] {
  return standing.flatMap((receipt) => changesSince(receipt, items, nameOfClass));
}

/** How many things are changed: two lines may be of one. */
export function countChanged(changes: readonly Change[]): number {
  return new Set(changes.map(({ now }) => now.item_id)).size;
}

/** The changes of a receipt's things since it was signed, those that went back apart; none if nothing is otherwise. */
export function changesSince(
  receipt: Receipt,
  items: readonly ItemRecord[],
  nameOfClass: NameOfClass,
): Change[] {
  return receipt.lines.flatMap((line) => {
    const item = thingOf(line, items);
    if (!item || isBackWithOwner(item)) return []; // not on this device: nothing can be said of it
    const now = receiptLine(item);
    const of = { receipt_id: receipt.id, line, now, name: nameInLine(item) };
    const taken = saidTakenAway(item);
    if (taken) return [{ ...of, what: [takenWords(taken.value.decided_by)], taken_at: taken.set.made_at }];
    const isDouble = item.record_id !== line.item_id || fieldValue(item, "merged")?.into_id;
    const what = [
      classWords(item, line, receipt, nameOfClass),
      ...(cameAgain(item, line, receipt) ? ["that it went back and came again"] : numberWords(item, line)),
      ...(line.words && line.words !== now.words ? wordsOtherwise(item, line, now, receipt) : []), // "": erased
      line.words && line.words === now.words && isHiddenOtherwise(item, line, receipt) ? "its condition" : "",
      isDouble ? "that it is one with another on record" : "",
    ].filter(Boolean);
    return what.length ? [{ ...of, what }] : [];
  });
}

/** By whom, as it was decided. Nothing else of it is signed for any more. */
function takenWords(decided_by: string | null) {
  const by = decided_by?.trim();
  return by ? `that an authority took it away: ${by}` : "that an authority took it away";
}

/** What is on record of one thing of a receipt since it was signed, and asks for no new one. */
export type Beside = { receipt_id: string; item_id: string; words: string };

/** Facts that no line has, and how each is told. */
const TOLD_BESIDE = [
  ["seen_words", "seen"],
  ["materials", "materials"],
] as const;

/**
 * What came to be said since a receipt was signed that it names of nothing: slight faults, what was seen, materials,
 * and by the `day` what the house found. The owner reads it, and may have a new receipt; the day owes them none.
 */
export function besideSince(receipt: Receipt, items: readonly ItemRecord[], day?: DayRecord): Beside[] {
  return receipt.lines.flatMap(({ item_id, words }) => {
    const item = words ? thingOf({ item_id }, items) : undefined; // "": erased
    if (!item || isBackWithOwner(item) || saidTakenAway(item)) return [];
    const all = day ? foundByHouse(item, day) : { missing: 0, found: [] };
    const found = all.found.filter(({ set }) => isSince(set, receipt));
    const said = [
      ...foundInWords({ ...all, found }),
      ...slightSince(item, (set) => isSince(set, receipt)).map((fault) => `slight: ${fault}`),
      ...TOLD_BESIDE.map(([field, called]) => {
        const set = item.fields[field];
        const now = fieldValue(item, field);
        return set && now && isSince(set, receipt) ? `${called}: “${now}”` : "";
      }),
    ].filter(Boolean);
    return said.length ? [{ receipt_id: receipt.id, item_id, words: said.join("; ") }] : [];
  });
}

/** The record that stands for the thing of a line. */
function thingOf(
  { item_id }: Pick<ReceiptLine, "item_id">,
  items: readonly ItemRecord[],
): ItemRecord | undefined {
  const records = items.filter((item) => sameThing(item).some(({ record_id }) => record_id === item_id));
  return records.find((item) => !fieldValue(item, "merged")?.into_id) ?? records[0];
}

/** Of a receipt that says no class it is told only what that device said later, by its own order or the clocks. */
function classWords(item: ItemRecord, line: ReceiptLine, receipt: Receipt, nameOfClass: NameOfClass) {
  const { class_id } = receiptLine(item);
  const set = item.fields.class_id;
  const isOther = line.class_id === undefined ? set && isSince(set, receipt) : line.class_id !== class_id;
  if (!isOther) return "";
  const was = line.class_id ? nameOfClass(line.class_id) : "";
  const now = class_id ? nameOfClass(class_id) || "another one" : "none";
  return `its class: ${now}${was ? `, was ${was}` : ""}`;
}

function numberWords(item: ItemRecord, line: ReceiptLine): string[] {
  const [here, back] = [numbersHere(item), tagsBack(item)];
  const signed = line.tags.filter((tag) => !back.includes(tag));
  const isSame = signed.length === here.length && signed.every((tag) => here.includes(tag));
  const pieces = line.words.split("; ").find((part) => PIECES.test(part) || NUMBERS.test(part)) ?? "";
  // One of a set under one number gets its own as it goes, which no receipt names.
  const backAtSigning = Number(/here, (\d+) back with/.exec(pieces)?.[1] ?? 0);
  const wentBack =
    line.tags.some((tag) => back.includes(tag)) || (line.words !== "" && piecesBack(item) > backAtSigning);
  const isCounted = !line.words || wentBack || [piecesWords(item), piecesBefore(item)].includes(pieces);
  return [
    wentBack ? PIECE_BACK : "",
    isSame && isCounted ? "" : here.length || !signed.length ? "its numbers or pieces" : "its number is gone",
  ];
}

function wordsOtherwise(item: ItemRecord, line: ReceiptLine, now: ReceiptLine, receipt: Receipt) {
  const isHeld = saysHeld(now);
  const counts = countsIn(line);
  return [
    isNamedOtherwise(item, line, receipt) ? "what it is called" : "",
    isOtherCondition(item, line, now, receipt) ? "its condition" : "",
    counts && counts !== countsIn(now) ? "how many were counted" : "",
    isHeld === saysHeld(line)
      ? ""
      : isHeld && isStopped(item)
        ? "that it is stopped"
        : "that it is held apart",
  ];
}

/** What a line says was counted; receipts of before say nothing of it. */
function countsIn({ words }: ReceiptLine): string {
  const parts = words.split("; ").slice(1);
  return parts.find((part) => COUNTS.test(part)) ?? "";
}

/** What of a line is no fault. */
function standsByItself(part: string): boolean {
  return BESIDE_FAULTS.has(part) || [PIECES, NUMBERS, PART, COUNTS].some((form) => form.test(part));
}

function saysHeld({ words }: ReceiptLine): boolean {
  return words
    .split("; ")
    .slice(1)
    .some((part) => HELD.has(part));
}

/**
 * Whether it is called otherwise. A name may hold a semicolon and be cut there afterwards: then the line goes on with
 * what is neither of its pieces nor a fault that it ever had.
 */
function isNamedOtherwise(item: ItemRecord, line: ReceiptLine, receipt: Receipt): boolean {
  const name = nameInLine(item);
  if (!beginsWith(line, name)) return true;
  const set = item.fields.short_description;
  const [next] = partsBehind(line, name);
  if (!next || !set || !isSince(set, receipt)) return false;
  const isFault = listed(item, "findings/").some(({ value }) =>
    [faultName, faultOnIt, faultNamed].some((named) => next.startsWith(named(value))),
  );
  return !isFault && !GRAVE.test(next) && !standsByItself(next);
}

/**
 * Another version of the app may word a fault otherwise, so that the words of the condition alone are no change: they
 * are one where a finding was said elsewhere, and may have been heard only since, or there after the signing. A receipt
 * of before does not say how grave a fault is, how large or on which side: of what it lists all that was said after it
 * counts.
 */
function isOtherCondition(item: ItemRecord, line: ReceiptLine, now: ReceiptLine, receipt: Receipt): boolean {
  const findings = sameThing(item).flatMap((one) => listed(one, "findings/"));
  const read = conditionIn(line, item);
  const all = (wording: (finding: FindingValue) => string) =>
    conditionIn(lineWithAllFaults(item, wording), item);
  if (isTriedOtherwise(item, line, receipt)) return true;
  if ([conditionIn(now, item), ...[faultWords, faultOnBareSide, faultAsListed].map(all)].includes(read))
    return isHiddenOtherwise(item, line, receipt);
  const before = [faultName, (finding: FindingValue) => faultInFigures(finding)];
  if (before.some((wording) => read === all(wording)))
    return findings.some(({ value, set }) => isSince(set, receipt) && (isVisible(value) || value.withdrawn));
  return findings.some(({ set }) => set.device_id !== receipt.device_id || isSince(set, receipt));
}

/**
 * Whether what did not work is otherwise than a line says. Receipts of before say nothing of it: on them, and where a
 * line only counts some, what was tried after it counts, or said elsewhere.
 */
function isTriedOtherwise(item: ItemRecord, line: ReceiptLine, receipt: Receipt): boolean {
  const failed = failedTrials(item);
  const signed = partsBehind(line, nameInLine(item)).filter((part) => TRIALS.has(part));
  const isHeardLater = !MORE.test(line.words);
  return (
    signed.some((part) => !failed.some(({ words }) => words === part)) ||
    failed.some(
      ({ words, set }) =>
        !signed.includes(words) &&
        (isSince(set, receipt) || (isHeardLater && set.device_id !== receipt.device_id)),
    )
  );
}

/** Whether one of the faults that a line only counts was said after it, and is not one of those that it names. */
function isHiddenOtherwise(item: ItemRecord, { words }: ReceiptLine, receipt: Receipt): boolean {
  if (!MORE.test(words)) return false;
  return listed(item, "findings/").some(
    ({ value, set }) =>
      isSince(set, receipt) &&
      isVisible(value) &&
      !words.includes(faultInLine(value)) &&
      !words.includes(faultWords(value)) &&
      !words.includes(faultOnBareSide(value)) &&
      !words.includes(faultAsListed(value)),
  );
}

const TRIALS: ReadonlySet<string> = new Set(Object.values(FAILED));
/** What stands in a line by itself, beside what was found. */
const BESIDE_FAULTS: ReadonlySet<string> = new Set([
  HELD_WORDS,
  HELD_FORMERLY,
  OPEN_WORDS,
  SLIGHT_WORDS,
  ...TRIALS,
]);
const HELD: ReadonlySet<string> = new Set([HELD_WORDS, HELD_FORMERLY]);
const MORE = /; and \d+ more faults?/;
/** How a fault goes on behind its name. */
const GRAVE = /, (moderate|serious|severe)(,|$)/;
const PIECES =
  /^((\d+ (of \d+ )?)?pieces( here( \(.+\))?, \d+ back with the owner)?(: .+)?|(.+ )?back with the owner)$/;
/** As of what is in one piece, and has more numbers than one, of which nobody said what they are on. */
const NUMBERS = /^under \d+ numbers$/;
/** Which number is on which part: what it is called is no part of what was signed for. */
const PART = /^.+ under [0-9A-HJKMNP-TV-Z]{3}-[0-9A-HJKMNP-TV-Z]{3}$/;

/** A line begins with what the thing is called; what stands behind it are pieces and faults. */
function beginsWith({ words }: ReceiptLine, name: string) {
  return words === name || words.startsWith(`${name}; `);
}

function partsBehind(line: ReceiptLine, name: string): string[] {
  const { words } = line;
  return beginsWith(line, name) ? words.slice(name.length + 2).split("; ") : words.split("; ").slice(1);
}

/** The faults found behind the name, whichever it was, in no order, without the words that are said by themselves. */
function conditionIn(line: ReceiptLine, item: ItemRecord) {
  return partsBehind(line, nameInLine(item))
    .filter((part) => !standsByItself(part))
    .map((part) => part.replace(`, ${OPEN_PIECE}`, ""))
    .sort()
    .join("; ");
}
