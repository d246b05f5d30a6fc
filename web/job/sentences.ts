/** Sentences made from a record, each with the fields it rests on. They leave out, join and order; they never add. */

import { firstUpper } from "./words.ts";

/** `from` names the fields of the record that it rests on */
export type Sentence = { words: string; from: string[] };

/** One sentence: first letter large, one stop at its end. */
export function sentence(words: string, from: string[]): Sentence {
  return { words: `${firstUpper(withoutStop(words))}.`, from };
}

/** The sentences as one text. */
export function asText(sentences: Sentence[]) {
  return sentences.map(({ words }) => words).join(" ");
}

/** Sentences with the same words are said once, and rest on the fields of all of them. */
export function saidOnce(sentences: Sentence[]): Sentence[] {
  const said = new Map<string, Sentence>();
  for (const { words, from } of sentences)
    said.set(words, { words, from: [...new Set([...(said.get(words)?.from ?? []), ...from])] });
  return [...said.values()];
}

/** Words as typed, without the stop at their end. */
export function withoutStop(words: string) {
  return words.trim().replace(/[.\s]+$/, "");
}

/** A note as it stands, behind a colon; nothing if there is none. */
export function behindColon(note: string | null | undefined) {
  const words = withoutStop(note ?? "");
  return words && `: ${words}`;
}
