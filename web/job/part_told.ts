/** Whether a note tells of a part of what it is on, in whatever words: then it is never said of the whole. */

import { numberOf } from "./english.ts";
import type { Described } from "./families.ts";
import { isOneOf, isPlace, shareAWord, thingNoted } from "./one_of_them.ts";
import { nounOf, zoneNameOf, zoneOf } from "./places.ts";

/** "All but the mainspring", "hinges original": all the rest is meant. */
const OF_THE_REST =
  /\b(?:but|except|apart|besides|original|originals|survives?|survived|remains?|remaining|kept)\b/i;
/** "Only recently", "judged from below only": how or when it was seen, and not what. */
const ONLY_HOW = new RegExp(
  "\\bnot only\\b|\\bonly (?:in|by|from|since|for|as|when|recently|lately|slightly|possibly|probably|just|partly|told" +
    "|guessed|known|a guess|\\d)|\\b(?:seen|judged|told|guessed|noted|known)\\b",
  "i",
);
const PORTION =
  /\b(?:half|halves|sections?|portions?|parts?|tips?|corners?|panels?|panes?|(?:upper|lower|top|one) end|bottoms)\b/i;
/** What something else was, or who did it. */
const NOT_OF_IT = /\b(?:from|by|as|like|to|with an?)\b.*$/i;
/** What may be the stuff that all of it is made of, as well as a part. */
const STUFFS = new Set("glass gut hair board string cord".split(" "));
/** What is of many parts is not replaced by one: an escape wheel stands for no movement, a button for an eye. */
const OF_MANY_PARTS = /\b(?:movement|works?|mechanism|action|motor|shutter|frame|upholstery)\b/;
const TIMES = /\b(?:years?|months?|weeks?|times?|owners?|present)\b/i;

/** `note` is what somebody wrote beside "replaced", "later" or "associated" of a zone. */
export function tellsOfPart(described: Described, zone: string, note: string): boolean {
  const { book } = described;
  const name = zoneNameOf(book, zoneOf(zone));
  const typed = note.trim().toLowerCase();
  if (!typed || name.tally || OF_THE_REST.test(typed)) return false;
  const isOwn = (words: string[]) =>
    (name.plural && isOneOf(described, name, zoneOf(zone), words)) ||
    words.some((word) => [1, 2].some((count) => shareAWord(nounOf(name, count), word)));
  // "The mainspring of the movement" is no movement.
  const [head = "", of] = typed.split(/\bof (?:the|its|this|one)\b/);
  const isOfIt = of !== undefined && isOwn(wordsOf(of)) && !isOwn(wordsOf(head));
  const told = (isOfIt ? head : typed).replace(NOT_OF_IT, "");
  const words = wordsOf(told);
  if (
    !words.length ||
    isOwn(words) ||
    (name.plural && isPlace(described, zone, told.replace(/\bonly\b/, "")))
  )
    return false;
  if (isOfIt || PORTION.test(told)) return true;
  if (/\bonly\b/.test(typed)) return !ONLY_HOW.test(typed);
  const { parts = [] } = book.print.english;
  const isKnown = words.some(
    (word) => !STUFFS.has(word) && (parts.includes(word) || parts.includes(word.replace(/s$/, ""))),
  );
  // A boot button is what an eye was replaced by.
  if (/^an? (?!new\b|modern\b|later\b|newer\b)/.test(typed)) return isKnown && OF_MANY_PARTS.test(name.one);
  return isKnown || (isCounted(told) && !TIMES.test(told));
}

/** "One corner ornament", "the foil": it begins as the name of a thing does. */
function isCounted(told: string) {
  const [first = ""] = wordsOf(told);
  const begins = (numberOf(first) ?? 0) > 0 || ["the", "its"].includes(first);
  return begins && thingNoted(told) !== null;
}

function wordsOf(note: string) {
  return note.split(/[^\p{L}]+/u).filter(Boolean);
}
