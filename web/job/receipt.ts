/**
 * What a receipt lists, and what nobody has signed for yet: read off the records, so that it can be signed with no
 * network.
 */

import { holdingCautions, isStopped, sameThing } from "./cautions.ts";
import { isReturned, pieceCount, piecesBack, thingName, whereIs } from "./custody.ts";
import type { FindingValue, ReceiptValue } from "./fields.ts";
import { beginning } from "./kinds_read.ts";
import type { ReceiptLine } from "./operations.ts";
import { tagsOf, zoneName } from "./progress.ts";
import { isLeftAlone, isStoppedFor, mayBeReturned } from "./stopped.ts";
import type { ItemRecord, RecordCopy, ThingRecord, VisitRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { countWords, spaced } from "./words.ts";

/**
 * `is_here` says whether the signature is on this device; else it is asked of the office where a receipt is read back.
 */
export type Receipt = ReceiptValue & {
  id: string;
  made_at: string;
  device_id: string;
  /** Its place in that device's own order, as `FieldValue` has it. */
  device_seq?: number | undefined;
  signed_by: string;
  strokes: string;
  is_here: boolean;
};

/** What one line of a receipt holds, in characters. */
const MOST_WORDS = 400;
/** What its name may take of them: pieces, held and what is not said by name fit behind it. */
const MOST_NAME = 250;
/** From this severity on a fault stands on the receipt. */
const VISIBLE = 2;

export const HELD_WORDS = "held apart, as the owner was told";

/** What the severities from `VISIBLE` on are called. */
const SEVERITIES = ["moderate", "serious", "severe"];

/** Whether a fault stands on the receipt. */
export function isVisible({ withdrawn, severity }: FindingValue): boolean {
  return !withdrawn && severity >= VISIBLE;
}

/** A fault as receipts of before said it. */
export function faultName({ term, zone }: FindingValue): string {
  return `${spaced(term)}, ${zoneName(zone)}`;
}

/** A fault with how grave and how large it is, so that another one in its place reads otherwise. */
export function faultWords(finding: FindingValue): string {
  const { severity, extent_mm, extent_mm_across, extent_count, extent_percent } = finding;
  const long = [extent_mm, extent_mm_across].filter(Boolean).join(" x ");
  return [
    faultName(finding),
    SEVERITIES[severity - VISIBLE],
    long && `${long} mm`,
    extent_count && `${extent_count} of them`,
    extent_percent && `${extent_percent} %`,
  ]
    .filter(Boolean)
    .join(", ");
}

/**
 * One item by words with which a stranger could match it: what it is, its pieces, its main faults, the gravest first;
 * and under the numbers that are on it. Of one whose pieces went back in part it says what stays. The `wording` of a
 * fault is that of now, unless a receipt of before is read again.
 */
export function receiptLine(item: ItemRecord, wording = faultWords): ReceiptLine {
  const faults = listed(item, "findings/")
    .map(({ value }) => value)
    .filter(isVisible)
    .sort((a, b) => b.severity - a.severity)
    .map(wording);
  const held = holdingCautions(item).length ? HELD_WORDS : "";
  return lineOf(item, numbersHere(item), piecesWords(item), faults, held);
}

/** What went back as a line: under the numbers that it had; of what went back in part, those pieces alone. */
export function lineOfReturned(item: ItemRecord): ReceiptLine {
  const pieces = piecesBack(item);
  if (pieces.length) return lineOf(item, pieces, wentWords(pieces.length, pieceCount(item)));
  const tied = tagsOf(item);
  const had = listed(item, "tags/").map(({ value }) => value.tag);
  return { ...receiptLine(item), tags: tied.length ? [...tied] : had };
}

function wentWords(count: number, of: number) {
  if (of === 1) return "";
  return count < of ? `${count} of ${of} pieces` : `${of} pieces`;
}

function lineOf(
  item: ItemRecord,
  tags: string[],
  pieces: string,
  faults: readonly string[] = [],
  held = "",
): ReceiptLine {
  return {
    item_id: item.record_id,
    tags,
    words: inOneLine(nameInLine(item), pieces, faults, held),
    class_id: beginning(fieldValue(item, "class_id") ?? "", MOST_WORDS) || null,
  };
}

/** What does not fit is counted, and no word is cut. */
function inOneLine(name: string, pieces: string, faults: readonly string[], held: string): string {
  for (let count = faults.length; ; count -= 1) {
    const more = faults.length - count;
    const said = [...faults.slice(0, count), more ? `and ${countWords(more, "more fault")}` : ""];
    const words = [name, pieces, ...said, held].filter(Boolean).join("; ");
    if (!count || words.length <= MOST_WORDS) return words;
  }
}

/** What a thing is called, with as many whole words as leave room for the rest of the line. */
export function nameInLine(item: ItemRecord): string {
  const name = thingName(item);
  return name.length > MOST_NAME ? `${beginning(name, MOST_NAME).replace(/\s+\S*$/, "")} …` : name;
}

/** The numbers on an item whose pieces are here; those on a record that stands behind it are on the same thing. */
export function numbersHere(item: ItemRecord): string[] {
  return sameThing(item).flatMap((record) => {
    const back = piecesBack(record);
    return record !== item && isReturned(record) ? [] : tagsOf(record).filter((tag) => !back.includes(tag));
  });
}

/** Whether all of it went back, at once or piece by piece; a piece without a number has not. */
export function isAllBack(item: RecordCopy): boolean {
  return isReturned(item) || piecesBack(item).length >= pieceCount(item);
}

/** How many pieces are here; of one piece nothing is said. */
export function piecesWords(item: ItemRecord): string {
  const of = pieceCount(item);
  const back = piecesBack(item).length;
  if (back)
    return back >= of
      ? "back with the owner"
      : `${of - back} of ${of} pieces here, ${back} back with the owner`;
  return of > 1 ? `${of} pieces` : "";
}

/** Whether a number that was signed for is gone, and a piece that is here has none in its place. */
function hasLostNumber(item: ItemRecord, { tags }: ReceiptLine): boolean {
  const [here, back] = [numbersHere(item), piecesBack(item)];
  const isGone = !here.length || tags.some((tag) => !here.includes(tag) && !back.includes(tag));
  return isGone && here.length < pieceCount(item) - back.length;
}

/** The signed receipts of a visit, the oldest first. */
export function receiptsOf(visit: VisitRecord): Receipt[] {
  return listed(visit, "receipts/")
    .map(({ id, value, set }) => ({
      id,
      ...value,
      made_at: set.made_at,
      device_id: set.device_id,
      device_seq: set.device_seq,
      is_here: fieldValue(visit, `consignor/signatures/${id}`) !== undefined,
      signed_by: "",
      strokes: "",
      ...fieldValue(visit, `consignor/signatures/${id}`),
    }))
    .sort((a, b) => a.id.localeCompare(b.id));
}

/**
 * What an owner has signed for leaving: of the receipts whose place no other took, the newest line of each thing. Two
 * tables may have signed apart, each for what it knew of. `thing` says of which thing an id is, since the line of a
 * record that stands behind another one goes on with that. `standing` are those receipts with the lines that hold, and
 * `laterOf` says which one took the place of a receipt.
 */
function linesThatStand(receipts: readonly Receipt[], thing: (id: string) => string) {
  const replaced = new Set(receipts.map(({ replaces }) => replaces));
  const left = receipts.filter(({ what }) => what === "left");
  const newest = new Map<string, Receipt>();
  for (const receipt of left)
    if (!replaced.has(receipt.id))
      for (const { item_id } of receipt.lines) newest.set(thing(item_id), receipt);
  const holds = (receipt: Receipt) =>
    receipt.lines.filter(({ item_id }) => newest.get(thing(item_id)) === receipt);
  return {
    standing: left
      .map((receipt) => ({ ...receipt, lines: holds(receipt) }))
      .filter(({ lines }) => lines.length),
    newest,
  };
}

/**
 * A visit's items, those here under a number and those that went back, and which of them no receipt names. What has no
 * number is not left with the house, and on no receipt; nor is what a red caution stops and nobody has decided on,
 * since the house may not take it in, or what it stops and never got a number: others have it. What was signed for and
 * is still here stays on its receipt and on the next, whatever became of it since: `staying` is what the next one
 * lists, and `toTie` what of it needs a number first, since that which was signed for is gone. `standing` are the
 * receipts for what was left that hold, each with the lines that do, and `last` the newest of them. `items` may be all
 * of the day.
 */
export function receiptState(
  visit: VisitRecord,
  items: readonly ItemRecord[],
  byId: Map<string, ThingRecord>,
) {
  const recorded = items.filter(
    (item) => item.visit_id === visit.record_id && !fieldValue(item, "merged")?.into_id,
  );
  const back = recorded.filter((item) => whereIs(item, byId).place === "returned" || isAllBack(item));
  const isBack = (item: ItemRecord) => back.includes(item);
  const receipts = receiptsOf(visit);
  const things = new Map(
    recorded.flatMap((item) => sameThing(item).map(({ record_id }) => [record_id, item] as const)),
  );
  const thing = (id: string) => things.get(id)?.record_id ?? id;
  const { standing, newest } = linesThatStand(receipts, thing);
  const names = ({ lines }: Receipt, item: ItemRecord) =>
    lines.filter(({ item_id }) => thing(item_id) === item.record_id);
  const last = receipts.find(({ id }) => id === standing.at(-1)?.id);
  const isSigned = (item: ItemRecord) => newest.has(item.record_id);
  const linesOf = (item: ItemRecord) => standing.flatMap((receipt) => names(receipt, item));
  const isOutOfHand = (item: ItemRecord) =>
    isLeftAlone(item) || (!numbersHere(item).length && isStopped(item) && !mayBeReturned(item));
  const stopped = recorded.filter((item) => !isBack(item) && !isSigned(item) && isOutOfHand(item));
  const here = recorded.filter((item) => !isBack(item) && !isOutOfHand(item) && numbersHere(item).length > 0);
  const staying = recorded.filter((item) => !isBack(item) && (here.includes(item) || isSigned(item)));
  return {
    recorded,
    here,
    staying,
    toTie: staying.filter(
      (item) =>
        linesOf(item).some((line) => hasLostNumber(item, line)) && !isStoppedFor(item, "tie_tag", () => true),
    ),
    back,
    backInPart: recorded.filter((item) => !isBack(item) && piecesBack(item).length > 0),
    receipts,
    standing,
    last,
    laterOf: (receipt: Receipt): Receipt | undefined =>
      receipts.find(({ replaces }) => replaces === receipt.id) ??
      laterByLines(receipt, newest, (id) => things.get(id), isBack),
    stopped,
    untagged: recorded.filter(
      (item) => !isBack(item) && !isOutOfHand(item) && !numbersHere(item).length && !isSigned(item),
    ),
    hereUnsigned: here.filter((item) => !isSigned(item)),
    backUnsigned: back.filter(
      (item) =>
        listed(item, "tags/").length > 0 &&
        !isBackSigned(item) &&
        !receipts.some((receipt) => receipt.what === "taken-back" && names(receipt, item).length > 0),
    ),
  };
}

/** Whether who took it back signed where that was noted, for all of it or for each piece. */
function isBackSigned(item: ItemRecord): boolean {
  const whole = fieldValue(item, "whereabouts");
  if (whole?.to_place === "returned") return whole.signed;
  return piecesBack(item).every((tag) => fieldValue(item, `whereabouts/${tag}`)?.signed);
}

/** A receipt that none names as the one before it lost its place if others hold for all that is still here. */
function laterByLines(
  { id, what, lines }: Receipt,
  newest: ReadonlyMap<string, Receipt>,
  thing: (id: string) => ItemRecord | undefined,
  isBack: (item: ItemRecord) => boolean,
): Receipt | undefined {
  if (what !== "left") return undefined;
  const here = lines.flatMap(({ item_id }) => {
    const item = thing(item_id);
    return item && !isBack(item) ? [newest.get(item.record_id)] : [];
  });
  return here.some((receipt) => receipt?.id === id) ? undefined : here[0];
}
