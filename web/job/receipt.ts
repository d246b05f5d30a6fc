/**
 * What a receipt lists, and what nobody has signed for yet: read off the records, so that it can be signed with no
 * network.
 */

import { foundBehind } from "./behind.ts";
import { cameAgainBy, cameAgainSince, tagsBack } from "./came_again.ts";
import { holdingCautions, isStopped, sameThing } from "./cautions.ts";
import { isWithOwner } from "./contents.ts";
import { countedThings } from "./counted_things.ts";
import { thingName } from "./custody.ts";
import { failedTrials } from "./failed_trials.ts";
import type { Families, FindingValue, ReceiptValue } from "./fields.ts";
import { type FoundByHouse, foundByHouse, foundInWords } from "./found_by_house.ts";
import { beginning } from "./kinds_read.ts";
import { marksOf, piecesListed } from "./listed_pieces.ts";
import { isInParts, partsNamed, partWords, piecesBack, piecesUnder } from "./number_parts.ts";
import { oneThing } from "./one_thing.ts";
import type { ReceiptLine } from "./operations.ts";
import { isOnPieceAway } from "./piece_away.ts";
import { countAlike, isPieceOpen, pieceInLine } from "./piece_open.ts";
import { mostCounted, onCounted, SET } from "./pieces.ts";
import { zoneAsKept } from "./progress.ts";
import { LOST_THERE, MISSING, STATES } from "./receipt_lists.ts";
import { saidTakenAway, takenAway } from "./referred.ts";
import { isLeftAlone, isStoppedFor, mayBeReturned } from "./stopped.ts";
import type { DayRecord, FieldValue, ItemRecord, ThingRecord, VisitRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { countBack, isBackWithOwner, isSince, pieceCount, tagsHere } from "./with_owner.ts";
import { countWords, spaced } from "./words.ts";

/** Who signed it, and for the house, with what, or on which pad: what may be anybody's name. */
export type Signature = Families["consignor/signatures"];
const NOT_READ: Signature = { signed_by: "", strokes: "", house_by: "", on_paper: "" };

/**
 * `is_here` says whether the signature is on this device; else it is asked of the office where a receipt is read back.
 */
export type Receipt = ReceiptValue &
  Signature & {
    id: string;
    made_at: string;
    device_id: string;
    /** Its place in that device's own order, as `FieldValue` has it. */
    device_seq?: number | undefined;
    is_here: boolean;
  };

/** What one line of a receipt holds, in characters. */
const MOST_WORDS = 400;
/**
 * What its name may take of them, and the list of its pieces with it: count, held and what is not said by name fit
 * behind these.
 */
const MOST_NAME = 250;
/** Of the note on what is missing. */
const MOST_NOTE = 100;
/** And what was counted of it with these. */
const MOST_WITH_COUNTS = 300;
/** From this severity on a fault stands on the receipt. */
const VISIBLE = 2;

export const HELD_WORDS = "held apart";
/** The same as receipts of before said it, also of what no owner had been told. */
export const HELD_FORMERLY = "held apart, as the owner was told";
/** As receipts of before said it once, behind all faults. */
export const OPEN_WORDS = "which of the pieces not noted";
/** Behind each fault of which that is so. */
export const OPEN_PIECE = "on which piece not noted";
/** Of slight faults, which a receipt does not name. */
export const SLIGHT_WORDS = "slight faults are on record besides";

/** What the severities from `VISIBLE` on are called. */
const SEVERITIES = ["moderate", "serious", "severe"];

type Wording = (finding: FindingValue, isOpen: boolean) => string;

/** Whether a fault stands on the receipt; what is missing does, however slight. */
export function isVisible({ withdrawn, severity, term }: FindingValue): boolean {
  return !withdrawn && (severity >= VISIBLE || (severity > 0 && term in MISSING));
}

function isSlight(finding: FindingValue): boolean {
  return !finding.withdrawn && finding.severity > 0 && !isVisible(finding);
}

/** A fault as receipts of before said it. */
export function faultName({ term, zone }: FindingValue): string {
  return `${spaced(term)}, ${zoneAsKept(zone)}`;
}

/** A fault with how grave and how large it is in figures, as receipts of before said it, too. */
export function faultInFigures(finding: FindingValue, named = faultName(finding)): string {
  const { severity, extent_mm, extent_mm_across, extent_count, extent_percent } = finding;
  const long = [extent_mm, extent_mm_across].filter(Boolean).join(" x ");
  return [
    named,
    SEVERITIES[severity - VISIBLE],
    long && `${long} mm`,
    extent_count && `${extent_count} of them`,
    extent_percent && `${extent_percent} %`,
  ]
    .filter(Boolean)
    .join(", ");
}

/** What a zone is, and no thing on it: "dial repainted". */
const OF_ZONES: ReadonlySet<string> = new Set(STATES.split(" "));

/** A fault and where it is as an owner reads it, with no vocabulary, so that every device says the same. */
export function faultOnIt({ term, zone }: FindingValue): string {
  const [fault, place] = [spaced(term), zone === "outline" ? "" : zoneAsKept(zone)];
  const lacks = MISSING[term];
  if (lacks && zone === SET) return `a ${lacks} of the set is missing`;
  if (lacks) return `a ${lacks} is missing${place && `: ${place}`}`;
  if (OF_ZONES.has(term)) return `${place} ${fault}`.trim();
  return place ? `${fault} on the ${place}` : fault;
}

/** And what it is that is missing, as far as that was noted: "a part of the set is missing (one saucer of six)". */
export function faultNamed(finding: FindingValue): string {
  const { term, zone, note } = finding;
  if (!(term in MISSING)) return faultOnIt(finding);
  const lost = term === "missing-part" && LOST_THERE[zone];
  const named = lost ? `a part is missing: ${lost}` : faultOnIt(finding);
  const noted = shortened(
    // A semicolon stands between the parts of a line.
    (note ?? "")
      .replaceAll(";", ",")
      .replace(/[ \t\r\n]+/g, " ")
      .replace(/^ |[ .,:]+$/g, ""),
    MOST_NOTE,
  );
  return noted && !` ${named}`.includes(` ${noted.toLowerCase()}`) ? `${named} (${noted})` : named;
}

/** The same as receipts of before said it: in the words of lists. */
export function faultAsListed(finding: FindingValue): string {
  return faultWords(finding, faultName(finding), spaced);
}

/** And as they said it with a side as lists name it: "viewers right". */
export function faultOnBareSide(finding: FindingValue): string {
  return faultWords(finding, faultOnIt(finding), spaced);
}

/** A side as an owner reads it: "viewer's right", "upper part", "3 o'clock". */
function sideInLine(side: string): string {
  const hour = /^clock-(\d+)$/.exec(side)?.[1];
  if (hour) return `${hour} o'clock`;
  return side === "upper" || side === "lower" ? `${side} part` : zoneAsKept(side);
}

/** A fault as a line has it now, and beside it, where nobody noted on which of several pieces it is, that. */
export function faultInLine(finding: FindingValue, isOpen = false): string {
  return [faultWords(finding, faultNamed(finding)), isOpen && OPEN_PIECE].filter(Boolean).join(", ");
}

/**
 * A fault with all that tells it from another one in its place: how grave, how large, on which side, on which of
 * several pieces.
 */
export function faultWords(
  finding: FindingValue,
  named = faultOnIt(finding),
  sideWords: (side: string) => string = sideInLine,
): string {
  const { side, zone, extent_words } = finding;
  const onSide = side && !zone.endsWith(`/${side}`) && sideWords(side);
  const inWords = extent_words?.replaceAll(";", ","); // a semicolon stands between the parts of a line
  return [faultInFigures(finding, named), onSide, inWords, pieceInLine(finding)].filter(Boolean).join(", ");
}

/**
 * One item by words with which a stranger could match it: what it is, its pieces, its main faults, the gravest first,
 * and what did not work; and under the numbers that are on it. Of one whose pieces went back in part it says what
 * stays, and no fault of what went. The `wording` of a fault is that of now, unless a receipt of before is read again.
 */
export function receiptLine(item: ItemRecord, wording: Wording = faultInLine): ReceiptLine {
  return lineOf(item, numbersHere(item), piecesAndCounts(item), wording, (one) => !isOnPieceAway(item, one));
}

/** The same with the faults of the pieces that went back, as it was signed for while they were here. */
export function lineWithAllFaults(item: ItemRecord, wording: Wording = faultInLine): ReceiptLine {
  return lineOf(item, numbersHere(item), piecesAndCounts(item), wording);
}

/**
 * What went back as a line: under the numbers that it had; of what went back in part, those pieces alone. Of what went
 * back twice those numbers stand in it that nobody has signed for, unless all are among `signed`. What the house
 * `found` of it since it was left stands in it, and a piece that is not here is none that went.
 */
export function lineOfReturned(
  item: ItemRecord,
  signed: ReadonlySet<string> = new Set(),
  found?: FoundByHouse,
): ReceiptLine {
  const [of, back] = [pieceCount(item), tagsBack(item)];
  const unsigned = back.filter((tag) => !signed.has(tag));
  const tags = unsigned.length ? unsigned : back;
  const pieces = new Set(tags.map((tag) => fieldValue(oneThing(item), `tags/${tag}`)?.piece));
  const isAll = isBackWithOwner(item) && (tags === back || pieces.size === of);
  const which = marksOf(item, tags).join(", ");
  const isTold = which && which.length + nameInLine(item).length <= MOST_NAME;
  const count = isInParts(item) ? piecesUnder(item, tags) : pieces.size;
  const some = `${count} of ${countOf(item)} pieces${isTold ? `: ${which}` : ""}`;
  const isWhole = isAll || pieces.size >= of;
  const words = isWhole ? countedBack(item, found) : count || !isTold ? some : `${which} only`;
  return lineOf(item, tags, words, isAll ? faultInLine : null, undefined, found);
}

/** Of pieces with a number each those went that were given back by theirs; of others all but what is missing. */
function countedBack(item: ItemRecord, found: FoundByHouse | undefined): string {
  const of = countOf(item);
  const isByNumbers = !isInParts(item) && pieceCount(item) >= of;
  if (!found || found.missing === 0 || of < 2 || isByNumbers) return countedWords(item);
  return found.missing === null
    ? `not all of ${of} pieces`
    : `${Math.max(0, of - found.missing)} of ${of} pieces`;
}

/** `wording` is how its faults are said; null for none of them, and of one that is not here it is not said. */
function lineOf(
  item: ItemRecord,
  tags: string[],
  pieces: string,
  wording: Wording | null,
  isHere?: (finding: FindingValue) => boolean,
  since?: FoundByHouse,
): ReceiptLine {
  const most = isHere ? undefined : mostCounted(item);
  const found = wording ? onRecord(item).map((one) => onCounted(item, one, most)) : [];
  const here = found.filter((finding) => isHere?.(finding) ?? true);
  const visible = here.filter(isVisible);
  const isOpen = (finding: FindingValue) => countAlike(item) > 1 && isPieceOpen(item, finding);
  const faults = visible
    .sort((a, b) => b.severity - a.severity)
    .map((finding) => wording?.(finding, isOpen(finding)) ?? "");
  const tried = wording ? failedTrials(item).map(({ words }) => words) : [];
  const held = wording && holdingCautions(item).length ? HELD_WORDS : "";
  const name = nameInLine(item);
  const room = MOST_WORDS - name.length - pieces.length - 2;
  const first = [pieces, ...(since ? foundInWords(since, room) : [])].filter(Boolean).join("; ");
  return {
    item_id: item.record_id,
    tags,
    words: whereItFits(
      inOneLine(name, first, [...faults, ...tried], [held]),
      here.some(isSlight) ? SLIGHT_WORDS : "",
    ),
    class_id: beginning(fieldValue(item, "class_id") ?? "", MOST_WORDS) || null,
  };
}

function onRecord(item: ItemRecord): FindingValue[] {
  return [...listed(item, "findings/").map(({ value }) => value), ...foundBehind(item)];
}

/** Faults that are on record and that no receipt names, since each is slight: a receipt has the main ones. */
export function slightFaults(item: ItemRecord): string[] {
  return onRecord(item)
    .filter(isSlight)
    .filter((one) => !isOnPieceAway(item, one))
    .map((one) => faultInLine(onCounted(item, one, undefined)));
}

/** Those that were said since. */
export function slightSince(item: ItemRecord, isSince: (set: FieldValue) => boolean): string[] {
  return sameThing(item)
    .flatMap((one) => listed(one, "findings/"))
    .filter(({ value, set }) => isSlight(value) && isSince(set) && !isOnPieceAway(item, value))
    .map(({ value }) => faultInLine(onCounted(item, value, undefined)));
}

/** What does not fit is counted, and no word is cut. */
function inOneLine(name: string, pieces: string, faults: readonly string[], ends: readonly string[]): string {
  for (let count = faults.length; ; count -= 1) {
    const more = faults.length - count;
    const said = [...faults.slice(0, count), more ? `and ${countWords(more, "more fault")}` : ""];
    const words = [name, pieces, ...said, ...ends].filter(Boolean).join("; ");
    if (!count || words.length <= MOST_WORDS) return words;
  }
}

/** What takes the place of no fault: one that is slight and said later changes nothing else of a line. */
function whereItFits(line: string, end: string): string {
  const words = [line, end].filter(Boolean).join("; ");
  return words.length <= MOST_WORDS ? words : line;
}

/** What a thing is called, with as many whole words as leave room for the rest of the line. */
export function nameInLine(item: ItemRecord): string {
  const name = thingName(item);
  return shortened(name, MOST_NAME);
}

/** No word is cut. */
function shortened(words: string, most: number): string {
  return words.length > most ? `${beginning(words, most).replace(/\s+\S*$/, "")} …` : words;
}

/** The numbers on an item whose pieces are here; those on a record that stands behind it are on the same thing. */
export function numbersHere(item: ItemRecord): string[] {
  return tagsHere(item);
}

/**
 * How many pieces are here: those with a number each, or more as they were counted; of one piece nothing is said. Of
 * one whose numbers are on parts its pieces are those that were counted, and which part went is said by name.
 */
export function piecesWords(item: ItemRecord): string {
  if (isBackWithOwner(item)) return "back with the owner";
  const [of, back] = [countOf(item), piecesBack(item)];
  const ofThem = piecesListed(item, MOST_NAME - nameInLine(item).length);
  // What is listed stands beside those that are here, or it would read as what went.
  if (back) return someBack(of, back, ofThem);
  const [counted, gone] = [countedWords(item), partsGone(item)];
  const named = [ofThem, gone && `${gone} back with the owner`].filter(Boolean).join(", ");
  return ofThem || (gone && counted) ? `${counted || "pieces"}: ${named}` : counted || named;
}

function someBack(of: number, back: number, ofThem: string): string {
  return `${of - back} of ${of} pieces here${ofThem && ` (${ofThem})`}, ${back} back with the owner`;
}

/** What went under a number that is on none of the pieces that were counted: "the cover". */
function partsGone(item: ItemRecord): string {
  if (!countBack(item) || !isInParts(item)) return "";
  const went = tagsBack(item).flatMap((tag) => fieldValue(oneThing(item), `tags/${tag}`) ?? []);
  return [...new Set(went.map((number) => partWords(item, number)))].join(", ");
}

/**
 * And which number is on which part, and what was counted of it, where there is room. Of what went back in part nobody
 * knows how many are here.
 */
function piecesAndCounts(item: ItemRecord): string {
  const [pieces, said] = [piecesWords(item), countBack(item) ? "" : countedThings(item)];
  const all = [
    [pieces, ...partsNamed(item), said],
    [pieces, said],
  ].map((parts) => parts.filter(Boolean).join("; "));
  const name = nameInLine(item).length;
  return all.find((words) => name + words.length <= MOST_WITH_COUNTS) ?? pieces;
}

/**
 * By its numbers, unless more were counted: of more numbers than pieces some are on covers, and all are answered for.
 * Of one whose numbers are on parts as it was counted.
 */
function countOf(item: ItemRecord): number {
  if (isInParts(item)) return countAlike(item);
  return Math.max(pieceCount(item), fieldValue(item, "pieces") ?? 1);
}

function countedWords(item: ItemRecord): string {
  const of = pieceCount(item);
  const counted = countOf(item);
  if (isInParts(item) && counted === 1 && !partsNamed(item).length && !countBack(item))
    return `under ${of} numbers`;
  if (of > 1 && of === counted) return `${of} pieces`;
  const words = `${counted} pieces`;
  // "dinner service, 58 pieces" says it by its name.
  return counted > 1 && !` ${thingName(item)}`.includes(` ${words}`) ? words : "";
}

/** The same as receipts of before said it, that took as many numbers for as many pieces. */
export function piecesBefore(item: ItemRecord): string {
  const [numbered, back] = [pieceCount(item), countBack(item)];
  const of = Math.max(numbered, fieldValue(item, "pieces") ?? 1);
  const ofThem = piecesListed(item, MOST_NAME - nameInLine(item).length);
  if (back) return someBack(of, back, ofThem);
  const isCalled = of !== numbered && ` ${thingName(item)}`.includes(` ${of} pieces`);
  const words = of < 2 || isCalled ? "" : `${of} pieces`;
  return ofThem ? `${words || "pieces"}: ${ofThem}` : words;
}

/** Whether a number that was signed for is gone, and a piece that is here has none in its place. */
function hasLostNumber(item: ItemRecord, { tags }: ReceiptLine): boolean {
  const [here, back] = [numbersHere(item), tagsBack(item)];
  const isGone = !here.length || tags.some((tag) => !here.includes(tag) && !back.includes(tag));
  return isGone && here.length < pieceCount(item) - countBack(item);
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
      ...NOT_READ,
      ...fieldValue(visit, `consignor/signatures/${id}`),
    }))
    .sort((a, b) => a.id.localeCompare(b.id));
}

/** Whether a thing of a receipt is here, and went back after it was signed for: that receipt no longer covers it. */
export function cameAgain(item: ItemRecord, { tags }: ReceiptLine, receipt: Receipt): boolean {
  return !isBackWithOwner(item) && cameAgainSince(item, tags, (set) => isSince(set, receipt));
}

/** Whether neither of two receipts was known where the other was signed: both came in the place of the same one. */
function areApart(one: Receipt, other: Receipt): boolean {
  return one.id !== other.id && (one.replaces ?? null) === (other.replaces ?? null);
}

/** Whether a line reads as it would now. */
function saysAsItIs(item: ItemRecord, { tags, words, class_id }: ReceiptLine): boolean {
  const now = receiptLine(item);
  const isOfClass = class_id === undefined || class_id === now.class_id;
  return isOfClass && words === now.words && [...tags].sort().join() === [...now.tags].sort().join();
}

/**
 * What an owner has signed for leaving: of the receipts whose place no other took, the newest line of each thing, or
 * the one that reads as it is now. Two tables may have signed apart, each for what it knew of. `things` says of which
 * thing an id is, since the line of a record that stands behind another one goes on with that. `standing` are those
 * receipts with the lines that hold, and `newest` the one that has each thing.
 */
function linesThatStand(receipts: readonly Receipt[], things: ReadonlyMap<string, ItemRecord>) {
  const thing = (id: string) => things.get(id)?.record_id ?? id;
  const replaced = new Set(receipts.map(({ replaces }) => replaces));
  const left = receipts.filter(({ what }) => what === "left");
  const newest = new Map<string, Receipt>();
  for (const receipt of left)
    if (!replaced.has(receipt.id))
      for (const line of receipt.lines) {
        const [id, before] = [thing(line.item_id), newest.get(thing(line.item_id))];
        const item = things.get(line.item_id);
        const isBefore = (one: ReceiptLine) => thing(one.item_id) === id && item && saysAsItIs(item, one);
        // Whoever signed has signed for it as it is: of two who had not heard of each other neither is the later.
        const isTrueBefore = before && areApart(before, receipt) && before.lines.some(isBefore);
        if (!isTrueBefore || (item && saysAsItIs(item, line))) newest.set(id, receipt);
      }
  // Whoever signed anew since an authority took a thing has read a list without it.
  const isWithout = (item_id: string, receipt: Receipt) => {
    const item = things.get(item_id);
    const taken = item && saidTakenAway(item);
    return (
      taken !== undefined &&
      isSince(taken.set, receipt) &&
      left.some((other) => other !== receipt && !isSince(taken.set, other))
    );
  };
  const holds = (receipt: Receipt) =>
    receipt.lines.filter(
      ({ item_id }) => newest.get(thing(item_id)) === receipt && !isWithout(item_id, receipt),
    );
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
 * is still here stays on its receipt and on the next, whatever became of it since, but for what an authority took away:
 * `staying` is what the next one
 * lists, and `toTie` what of it needs a number first, since that which was signed for is gone. What went back and came
 * again is signed for anew. `standing` are the receipts for what was left that hold, each with the lines that do, and
 * `last` the newest of them. `items` may be all of the day.
 */
export function receiptState(
  visit: VisitRecord,
  items: readonly ItemRecord[],
  byId: Map<string, ThingRecord>,
) {
  const recorded = items.filter(
    (item) => item.visit_id === visit.record_id && !fieldValue(item, "merged")?.into_id,
  );
  const back = recorded.filter((item) => isWithOwner(item, byId));
  const isBack = (item: ItemRecord) => back.includes(item);
  const receipts = receiptsOf(visit);
  const things = new Map(
    recorded.flatMap((item) => sameThing(item).map(({ record_id }) => [record_id, item] as const)),
  );
  const { standing, newest } = linesThatStand(receipts, things);
  const names = ({ lines }: Receipt, item: ItemRecord) =>
    lines.filter(({ item_id }) => (things.get(item_id)?.record_id ?? item_id) === item.record_id);
  const last = receipts.find(({ id }) => id === standing.at(-1)?.id);
  const linesOf = (item: ItemRecord) =>
    standing.flatMap((receipt) =>
      names(receipt, item).filter((line) => isBack(item) || !cameAgain(item, line, receipt)),
    );
  const isSigned = (item: ItemRecord) => linesOf(item).length > 0;
  const isOutOfHand = (item: ItemRecord) =>
    isLeftAlone(item) ||
    takenAway(item) !== "" ||
    (!numbersHere(item).length && isStopped(item) && !mayBeReturned(item));
  const isGone = (item: ItemRecord) => isBack(item) || takenAway(item) !== "";
  const stopped = recorded.filter((item) => !isBack(item) && !isSigned(item) && isOutOfHand(item));
  const taken = recorded.filter((item) => !isBack(item) && isSigned(item) && isGone(item));
  const here = recorded.filter((item) => !isBack(item) && !isOutOfHand(item) && numbersHere(item).length > 0);
  const staying = recorded.filter((item) => !isGone(item) && (here.includes(item) || isSigned(item)));
  const signedBack = (item: ItemRecord) =>
    new Set(
      receipts
        .filter(({ what }) => what === "taken-back")
        .flatMap((receipt) =>
          names(receipt, item).flatMap(({ tags }) => tagsSignedBack(item, tags, receipt)),
        ),
    );
  return {
    recorded,
    here,
    staying,
    toTie: staying.filter(
      (item) =>
        linesOf(item).some((line) => hasLostNumber(item, line)) && !isStoppedFor(item, "tie_tag", () => true),
    ),
    back,
    backInPart: recorded.filter((item) => !isBack(item) && countBack(item) > 0),
    receipts,
    standing,
    last,
    laterOf: (receipt: Receipt): Later | undefined => {
      const later = receipts.find(({ replaces }) => replaces === receipt.id);
      return later
        ? { receipt: later, tookItsPlace: true, isApart: false }
        : laterByLines(receipt, newest, (id) => things.get(id), isBack);
    },
    stopped,
    /** What the next receipt does not list, though one before it may. */
    outOfHand: [...stopped, ...taken],
    untagged: recorded.filter(
      (item) => !isBack(item) && !isOutOfHand(item) && !numbersHere(item).length && !isSigned(item),
    ),
    hereUnsigned: here.filter((item) => !isSigned(item)),
    backUnsigned: back.filter((item) => {
      const signed = signedBack(item);
      return (
        listed(oneThing(item), "tags/").length > 0 &&
        !isBackSigned(item) &&
        tagsBack(item).some((tag) => !signed.has(tag))
      );
    }),
    /** The line to sign of one of those, with what the house found of it by the day's record. */
    lineOfBack: (day: DayRecord) => (item: ItemRecord) =>
      lineOfReturned(item, signedBack(item), foundByHouse(item, day)),
  };
}

/**
 * Of the numbers that a receipt for what was taken back names those whose going back it covers: not one that came
 * again with its number after it was signed, and went back anew. A line that names none is for all that it had.
 */
function tagsSignedBack(item: ItemRecord, tags: readonly string[], receipt: Receipt): string[] {
  return (tags.length ? tags : tagsBack(item)).filter(
    (tag) => !cameAgainBy(item, tag).some((set) => isSince(set, receipt)),
  );
}

/** Whether who took it back signed where that was noted, for all of it or for each piece. */
function isBackSigned(record: ItemRecord): boolean {
  const item = oneThing(record);
  const whole = fieldValue(item, "whereabouts");
  const tags = tagsBack(item);
  if (!tags.length) return Boolean(whole?.to_place === "returned" && whole.signed);
  return tags.every((tag) => {
    const move = fieldValue(item, `whereabouts/${tag}`) ?? whole;
    return move?.to_place === "returned" && move.signed;
  });
}

/**
 * A receipt that holds for all of another, and whether it took its place: not if neither was known where the other was
 * signed (`isApart`), or if it was signed for a second record of the same thing, before anybody had said that they are
 * one.
 */
export type Later = { receipt: Receipt; tookItsPlace: boolean; isApart: boolean };

/** A receipt that none names as the one before it lost its place if others hold for all that is still here. */
function laterByLines(
  signed: Receipt,
  newest: ReadonlyMap<string, Receipt>,
  thing: (id: string) => ItemRecord | undefined,
  isBack: (item: ItemRecord) => boolean,
): Later | undefined {
  const { id, what, lines } = signed;
  if (what !== "left") return undefined;
  const here = lines.flatMap(({ item_id }) => {
    const item = thing(item_id);
    return item && !isBack(item) ? [{ item_id, item, later: newest.get(item.record_id) }] : [];
  });
  const receipt = here[0]?.later;
  if (!receipt || here.some(({ later }) => later?.id === id)) return undefined;
  const isKnownOne = (item: ItemRecord) =>
    !sameThing(item).some(({ fields }) => fields.merged && isSince(fields.merged, receipt));
  const tookItsPlace = here.every(
    ({ item_id, item }) => receipt.lines.some((line) => line.item_id === item_id) || isKnownOne(item),
  );
  const isApart = tookItsPlace && areApart(signed, receipt);
  return { receipt, tookItsPlace: tookItsPlace && !isApart, isApart };
}
