/** Sentences made from a record, each with the fields it rests on. They leave out, join and order; they never add. */

import { firstUpper } from "./words.ts";

/**
 * `from` names the fields of the record that it rests on. `keys` name what it speaks of, such as a finding or a zone
 * that nobody looked at: they stay while its words, its light or the state of a zone change, so that what the desk made
 * of the sentence finds it again.
 */
export type Sentence = { words: string; from: string[]; keys: string[] };

/** Words that become part of a sentence. */
export type Part = Omit<Sentence, "keys">;

/** One sentence: first letter large, one stop at its end. Most speak of the fields that they rest on. */
export function sentence(words: string, from: string[], keys: string[] = from): Sentence {
  const begun = firstUpper(withoutStop(words));
  return { words: /[?!]$/.test(begun) ? begun : `${begun}.`, from, keys };
}

/** The sentences as one text. */
export function asText(sentences: Sentence[]) {
  return sentences.map(({ words }) => words).join(" ");
}

/** Sentences with the same words are said once, and rest on the fields of all of them, but for those kept `apart`. */
export function saidOnce(sentences: Sentence[], apart?: (key: string) => string): Sentence[] {
  const byWords = new Map<string, Sentence>();
  for (const { words, from, keys } of sentences) {
    const name = `${words} ${apart?.(keys[0] ?? "") ?? ""}`;
    const before = byWords.get(name) ?? { from: [], keys: [] };
    byWords.set(name, { words, from: united(before.from, from), keys: united(before.keys, keys) });
  }
  return [...byWords.values()];
}

function united(some: readonly string[], more: readonly string[]) {
  return [...new Set([...some, ...more])];
}

/** Words as typed, without the stop at their end and on one line. */
export function withoutStop(words: string) {
  return words
    .trim()
    .replace(/[.\s]+$/, "")
    .replaceAll(/\s+/g, " ");
}

/** A note as it stands, behind a colon; nothing if there is none. */
export function behindColon(note: string | null | undefined) {
  const words = withoutStop(note ?? "").replace(/^[\s:;,.]+/, "");
  return words && `: ${words}`;
}

/** What a note begins with that goes on with its sentence: "converted to a lamp", "missing from one bottle". */
const GOES_ON = /^: (at|from|to|by|along|across|near|under|above|below|beside|behind|between|inside|where) /;
/** "Replaced with the old label laid on" would be another fact, "the support on the back" another place. */
const BESIDE = /^: (with|without|on|but for|except|apart from) /;

/** Brackets hold no sentences, and none within others. */
const NO_BRACKETS = /[()[\]]|[.?!] /;

/** A note behind a fault, of which a place was told or none: one that says where goes on with its sentence. */
export function goingOnWith(note: string | null | undefined, isPlaced: boolean = true) {
  const noted = behindColon(note);
  if (!isPlaced && noted.startsWith(": on ")) return noted.slice(1);
  if (BESIDE.test(noted)) return noted.replace(":", ",");
  return GOES_ON.test(noted) ? noted.slice(1) : inBrackets(note);
}

/** A note of a fault in brackets: which one is meant, where it is, how it looks; one of sentences behind a colon. */
export function inBrackets(note: string | null | undefined) {
  const noted = behindColon(note);
  return noted && !NO_BRACKETS.test(noted) ? ` (${noted.slice(2)})` : noted;
}
