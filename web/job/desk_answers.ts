/**
 * The answers to bidders with what the desk made of the same sentences: what it wrote stands in place of the record's,
 * what it struck is left out and named as open, and what it moved comes in the order of the paragraph.
 */

import { type Answered, fiveAnswers, type Written } from "./answers.ts";
import { apartOf, covers, type DeskText, deskTexts, keysOfLine, standingVersions } from "./desk_words.ts";
import type { SentenceVersion } from "./fields.ts";
import { type Sentence, saidOnce } from "./sentences.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";

const ON_REQUEST: Sentence = { words: "Answered on request.", from: [], keys: [] };
const REST_ON_REQUEST: Sentence = { words: "The rest is answered on request.", from: [], keys: [] };

/** `texts` are the item's as the desk has them, where they are made already. */
export function deskAnswers(
  plan: Plan,
  book: PlanBook,
  record: RecordCopy,
  texts: DeskText[] = deskTexts(plan, book, record),
): Answered[] {
  const versions = standingVersions({ plan, book, record });
  const apart = versions.length ? apartOf(versions) : undefined;
  return fiveAnswers(plan, book, record, () => writtenIn(texts, versions), apart);
}

/** What the desk wrote of the sentences of one answer, each version once. */
function writtenIn(texts: DeskText[], versions: SentenceVersion[]): Written {
  const used = new Set<SentenceVersion>();
  let isStruck = false;
  const wordsOf = (sentence: Sentence): Sentence[] => {
    const covering = versions.filter((version) => covers(version, sentence));
    if (!covering.length) return [sentence];
    const fresh = covering.filter((version) => !used.has(version));
    for (const version of fresh) used.add(version);
    isStruck ||= covering.some(({ words }) => !words.trim());
    return fresh.flatMap(({ words }) => (words.trim() ? [{ ...sentence, words: words.trim() }] : []));
  };
  return {
    words: (known) => saidOnce(inTheirOrder(known, texts).flatMap(wordsOf)),
    whole: (answer) => {
      if (!answer.length) return [ON_REQUEST];
      return isStruck ? [...answer, REST_ON_REQUEST] : answer;
    },
  };
}

/** Sentences in the order in which the desk has them; one that no text has stays behind the one that it was behind. */
function inTheirOrder(known: Sentence[], texts: DeskText[]): Sentence[] {
  const lines = texts.flatMap((text) => (text.isOrdered ? text.lines.map(keysOfLine) : []));
  if (!lines.length) return known;
  let place = -1;
  const placed = known.map((sentence) => {
    const line = lines.findIndex((keys) => sentence.keys.some((key) => keys.includes(key)));
    if (line >= 0) place = line;
    return { sentence, place };
  });
  return placed.sort((a, b) => a.place - b.place).map(({ sentence }) => sentence);
}
