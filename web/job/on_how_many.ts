/** On how many pieces something is of which somebody typed only which they are. */

import { wordsInLine } from "./in_line.ts";
import { lineFrom, linesListed } from "./listed_pieces.ts";
import type { RecordCopy } from "./types.ts";

/** Words of more than one, of which nobody can tell how many. */
const OF_MORE = /^(?:both|all|each|every|some|several|few|many|most|other)\b|\s(?:and|or)\s|[,&+]/i;
const ARTICLE = /^(?:the|an?|its|one)\s+/i;
/** Where what a piece is called ends, and what is said of it begins. */
const BESIDE = /\s(?:of|with|in|on|from|for|by|at)\s.*$/i;

const plain = (words: string) => wordsInLine(words).toLowerCase().replace(ARTICLE, "");

/** As many as the words say, one of "the brace"; null where they are of more and do not say of how many. */
export function countMeant(item: RecordCopy, which: string): number | null {
  const words = which.trim();
  if (!words) return null;
  const line = linesListed(item).find(({ value }) => plain(value.words) === plain(words));
  if (line) return line.value.count === 1 ? 1 : null;
  const { count } = lineFrom(words);
  if (count > 1) return count;
  const isOfMore = OF_MORE.test(words) || /[^s]s$/i.test(plain(words).replace(BESIDE, ""));
  return isOfMore ? null : 1;
}
