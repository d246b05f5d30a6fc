/** On which of several pieces something is by the note beside it: "two of the six", "chairs 5 and 6", "left one". */

import { countInWords, numberOf } from "./english.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { piecesInWords, piecesOf } from "./which_piece.ts";

/** `rest` is what the note says beside which they are. */
export type PiecesNoted = { words: string; many: boolean; rest: string };

const NUMBERED = /^(?:the )?(?:\p{L}+\.? )?(?:nos?\.? ?)?(\d+(?:(?:, ?|,? and | ?& ?)\d+)*)$/u;
const COUNTED =
  /^(?:only |the )?(\p{L}+|\d+)(?: only)?(?: of (?:the|them|these)\b ?(?:\p{L}+ ?){0,3}| (\p{L}+))?$/u;
const OF_TWO = /^(?:only )?(?:the )?(left|right|first|second|other|smaller|larger)(?: one)?(?: only)?$/;
const OF_SOME =
  /\b(?:some|several|few|most|others?|carvers?|armchairs?)\b|\bof (?:the|them|these)\b|\bonly the\b|\bonly$/;

/** null of a note that tells nothing of which they are, or that they are all. */
export function piecesNoted(record: RecordCopy, note: string): PiecesNoted | null {
  const all = piecesOf(record);
  const typed = note.trim().replace(/\.$/, "");
  if (all < 2 || !typed || /\b(?:all|both|each|every)\b/i.test(typed)) return null;
  const [, numbers] = NUMBERED.exec(typed.toLowerCase()) ?? [];
  const each = (numbers ?? "").match(/\d+/g)?.map(Number) ?? [];
  const isListed = numbers && numbers !== typed && each.every((one) => one > 0 && one <= all);
  if (isListed && each.length < all) return ofThem(record, each.length, typed);
  const [, head = "", rest = ""] = /^([^,;:(]+)[,;:]? ?(.*)$/.exec(typed) ?? [];
  const counted = countedIn(record, head.trim().toLowerCase());
  if (counted) return ofThem(record, counted, rest.replace(/^\((.*)\)$/, "$1"));
  const [, side] = OF_TWO.exec(head.trim().toLowerCase()) ?? [];
  if (side && all === 2) return { words: `the ${side} one`, many: false, rest };
  if (!OF_SOME.test(typed.toLowerCase())) return null;
  return all === 2 ? ofThem(record, 1, typed) : { words: `some ${ofAll(record)}`, many: true, rest: typed };
}

/** How many of the pieces the beginning of a note counts; of "two legs" none, since those are no chairs. */
function countedIn(record: RecordCopy, head: string): number | null {
  const [, number = "", noun] = COUNTED.exec(head) ?? [];
  const count = numberOf(number) ?? 0;
  const called = (fieldValue(record, "short_description") ?? "").toLowerCase().split(/[^\p{L}]+/u);
  const isOfIt = !noun || noun === "pieces" || called.some((word) => [word, `${word}s`].includes(noun));
  return isOfIt && count > 0 && count < piecesOf(record) ? count : null;
}

function ofThem(record: RecordCopy, count: number, rest: string): PiecesNoted {
  return { words: `${countInWords(count, true)} ${ofAll(record)}`, many: count > 1, rest };
}

function ofAll(record: RecordCopy) {
  return `of the ${piecesInWords(record, piecesOf(record))}`;
}

/** What was made for a set is from no other: "later, made to match". */
export function isMadeForIt(note: string) {
  return /\b(?:made|copy|copies|match\w*|later|newer|new|modern|reproductions?|replicas?|replacements?)\b/i.test(
    note,
  );
}

/** What pieces are that were made for the set, in place of "associated, from another set". */
export function notOfThem(record: RecordCopy) {
  return piecesOf(record) === 2 ? "not of the pair" : "not of the set";
}
