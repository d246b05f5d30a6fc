/** What unlike pieces a thing consists of, line by line: two chisels, a plane, of a box of fourteen tools. */

import { tagsBack } from "./came_again.ts";
import { countInWords, listInWords, numberOf } from "./english.ts";
import type { ListedPiece } from "./fields.ts";
import { wordsInLine } from "./in_line.ts";
import { oneThing } from "./one_thing.ts";
import { backInPart, piecesCounted } from "./pieces.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, type Listed, listed } from "./values.ts";
import { isBackWithOwner } from "./with_owner.ts";
import { countWords } from "./words.ts";

/** The lines in the order in which they were written: ids go by the clock. */
export function linesListed(item: Pick<RecordCopy, "fields">): Listed<ListedPiece>[] {
  return listed(item, "listed/")
    .filter(({ value }) => !value.withdrawn)
    .sort((a, b) => (a.id < b.id ? -1 : 1));
}

export function countListed(item: Pick<RecordCopy, "fields">): number {
  return linesListed(item).reduce((sum, { value }) => sum + value.count, 0);
}

/** Of more than these nobody types the number of them: it is the year or the size of one. */
const MOST_OF_A_LINE = 99;

/** "2 chisels" and "two chisels" are two; "a plane" is one, and stands as it was typed. */
export function lineFrom(typed: string): { words: string; count: number } {
  const [, number = "", words = ""] = /^([\p{L}\d-]+)\s+(?:x\s+)?(.+)$/u.exec(typed.trim()) ?? [];
  const count = numberOf(number) ?? 0;
  if (count < 1 || count > MOST_OF_A_LINE) return { words: typed.trim(), count: 1 };
  return { words: words.trim(), count };
}

export function lineAsTyped({ words, count }: ListedPiece): string {
  return count > 1 ? `${count} ${words}` : words;
}

/** How the list stands to the count: "9 of 14 listed"; what does not agree says what to do. */
export function sumWords(item: Pick<RecordCopy, "fields">): { words: string; isOver: boolean } {
  const [sum, { said }] = [countListed(item), piecesCounted(item)];
  if (sum > said)
    return { words: `${sum} are listed, and ${countWords(said || 1, "piece")} counted.`, isOver: true };
  if (sum === said) return { words: `All ${said} are listed.`, isOver: false };
  return { words: `${sum} of ${said} listed, ${said - sum} to go.`, isOver: false };
}

/** What is written on the numbers of some pieces: which of them it is. */
export function marksOf(item: RecordCopy, tags: readonly string[]): string[] {
  return tags.map((tag) => wordsInLine(fieldValue(oneThing(item), `tags/${tag}`)?.mark)).filter(Boolean);
}

/** The lines with how many of each are here: what went is known by the words on its number. */
export function linesHere(item: RecordCopy): { words: string; count: number; all: number }[] {
  const went = isBackWithOwner(item) ? [] : marksOf(item, tagsBack(item));
  return linesListed(item).map(({ value }) => {
    const words = wordsInLine(value.words);
    const isAllGone = value.count > 1 && went.includes(`${value.count} ${words}`);
    let count = isAllGone ? 0 : value.count;
    while (count && went.includes(words)) {
      went.splice(went.indexOf(words), 1);
      count -= 1;
    }
    return { words, count, all: value.count };
  });
}

/**
 * The list as a receipt has it, without those that went back: "2 chisels, plane". No line is cut: what does not fit is
 * counted.
 */
export function piecesListed(item: RecordCopy, most: number): string {
  const here = linesHere(item).flatMap(({ words, count }) =>
    words && count ? (count > 1 ? `${count} ${words}` : words) : [],
  );
  for (let fit = here.length; fit; fit -= 1) {
    const more = fit < here.length ? [`and ${here.length - fit} more`] : [];
    const said = [...here.slice(0, fit), ...more].join(", ");
    if (said.length <= most) return said;
  }
  return "";
}

export function countListedHere(item: RecordCopy): number {
  return linesHere(item).reduce((sum, { count }) => sum + count, 0);
}

/** How many of the pieces that were counted are here. */
export function countHere(item: RecordCopy): number {
  return piecesCounted(item).said - backInPart(item);
}

/** "Two chisels, a plane and five others" in a text: each as it was written, with its number, of those here. */
export function listedInWords(item: RecordCopy): string {
  const each = linesHere(item).flatMap(({ words, count, all }) => {
    if (!count) return [];
    return all > 1 ? `${countInWords(count)} ${words}` : words;
  });
  const left = countHere(item) - countListedHere(item);
  if (left > 0) each.push(`${countInWords(left)} more`);
  // "Chisels, large and small" has a comma of its own.
  return each.some((words) => words.includes(",") || / and /.test(words))
    ? each.join("; ")
    : listInWords(each);
}
