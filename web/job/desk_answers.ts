/**
 * The answers to bidders with what the desk made of the same sentences: what it wrote stands in place of the record's,
 * what it struck is left out and named as open, and what it moved comes in the order of the paragraph.
 */

import { type Answered, fiveAnswers, type Written } from "./answers.ts";
import { type DeskText, deskTexts, keysOfLine, type Line } from "./desk_words.ts";
import type { Sentence } from "./sentences.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";

const ON_REQUEST: Sentence = { words: "Answered on request.", from: [], keys: [] };
const REST_ON_REQUEST: Sentence = { words: "The rest is answered on request.", from: [], keys: [] };

export function deskAnswers(plan: Plan, book: PlanBook, record: RecordCopy): Answered[] {
  const texts = deskTexts(plan, book, record);
  return fiveAnswers(plan, book, record, () => writtenIn(texts));
}

/** What the desk wrote of the sentences of one answer, each line once. */
function writtenIn(texts: DeskText[]): Written {
  const lines = texts.flatMap((text) => text.lines).filter(({ version }) => version);
  const used = new Set<Line>();
  let isStruck = false;
  const wordsOf = (sentence: Sentence): Sentence[] => {
    const covering = lines.filter((line) => isOf(line, sentence));
    if (!covering.length) return [sentence];
    const fresh = covering.filter((line) => !used.has(line));
    for (const line of fresh) used.add(line);
    isStruck ||= covering.some(({ words }) => !words);
    return fresh.flatMap(({ words }) => (words ? [{ ...sentence, words }] : []));
  };
  return {
    words: (known) => inTheirOrder(known, texts).flatMap(wordsOf),
    isWritten: (key) => lines.some((line) => keysOfLine(line).includes(key)),
    whole: (answer) => {
      if (!answer.length) return [ON_REQUEST];
      return isStruck ? [...answer, REST_ON_REQUEST] : answer;
    },
  };
}

/** Whether a line speaks of what a sentence speaks of, now; or spoke of it, where the record says it no longer. */
function isOf({ recorded, version }: Line, { keys }: Sentence) {
  const spoken = recorded.length ? recorded.flatMap((sentence) => sentence.keys) : (version?.speaks_of ?? []);
  return keys.some((key) => spoken.includes(key));
}

/** Sentences in the order in which the desk has them; one that no text has stays behind the one that it was behind. */
function inTheirOrder(known: Sentence[], texts: DeskText[]): Sentence[] {
  const lines = texts.flatMap((text) => (text.isOrdered ? text.lines : []));
  if (!lines.length) return known;
  let place = -1;
  const placed = known.map((sentence) => {
    const line = lines.findIndex((one) => isOf(one, sentence));
    if (line >= 0) place = line;
    return { sentence, place };
  });
  return placed.sort((a, b) => a.place - b.place).map(({ sentence }) => sentence);
}
