/** What holds the word of a condition down, and what may become of a thing, as sentences to whoever reads the entry. */

import type { Because, Stability } from "./condition.ts";
import { listInWords } from "./english.ts";
import type { FindingValue } from "./fields.ts";
import { type Lists, placedWords, testName } from "./list_words.ts";
import { onCounted } from "./pieces.ts";
import type { RecordCopy } from "./types.ts";
import { firstUpper } from "./words.ts";

/** So many of the faults that hold a word down are named; all of them stand among the findings. */
const MOST_NAMED = 3;

/** "Not better, since it has a moderate fault (hole in the left foot)." */
export function notBetterWords(lists: Lists, item: RecordCopy, because: readonly Because[]): string {
  const clauses = because.map(({ words, found, tried = [] }) => {
    const names = [...namesOf(lists, item, found), ...tried.map(({ test }) => testName(lists, test))];
    return names.length ? `${words} (${fewOf(names)})` : words;
  });
  return clauses.length ? `Not better, since ${clauses.join("; ")}.` : "";
}

/** Where the word comes from: what all faults together would make it, and at what it is held. Why stands below it. */
export function reckonedWords(together: string, computed: string): string {
  return together === computed
    ? `All its faults taken together make it “${computed}”.`
    : `All its faults taken together would make it “${together}”; it is held at “${computed}”.`;
}

/** "May go on: hole in the left foot." */
export function riskWords(lists: Lists, item: RecordCopy, { risk, because }: Stability): string {
  return because.length ? `${firstUpper(risk)}: ${fewOf(namesOf(lists, item, because))}.` : "";
}

/** What is on more pieces than are counted by now is on nobody knows which. */
function namesOf(lists: Lists, item: RecordCopy, found: readonly FindingValue[]) {
  return [...new Set(found.map((finding) => placedWords(lists, onCounted(item, finding))))];
}

function fewOf(names: string[]) {
  const more = names.length - MOST_NAMED;
  return listInWords(more > 0 ? [...names.slice(0, MOST_NAMED), `${more} more`] : names);
}
