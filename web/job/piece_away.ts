/** What is on a piece that went back while others stay is none of what is here. */
import { tagsBack } from "./came_again.ts";
import { wordsInLine } from "./in_line.ts";
import { linesListed, marksOf } from "./listed_pieces.ts";
import type { RecordCopy } from "./types.ts";
import { isBackWithOwner, pieceOfSide, piecesAway, tagsHere } from "./with_owner.ts";

type On = { piece?: string | null; piece_count?: number | null; piece_words?: string | null };

/** Whether a finding is on a piece that is with its owner while others are here, by its number or in its words. */
export function isOnPieceAway(item: RecordCopy, { piece, piece_count, piece_words }: On): boolean {
  if (!(piece || piece_words) || isBackWithOwner(item)) return false;
  if (!piece) return areAway(item, wordsInLine(piece_words), piece_count ?? 1);
  const number = piece === "left" || piece === "right" ? pieceOfSide(item, piece) : Number(piece);
  return piecesAway(item).includes(number);
}

/**
 * Whether as many pieces went as a fault is on, under the words that tell of them, and none of these words is here: of
 * two ladles of which one went nobody knows which has it.
 */
function areAway(item: RecordCopy, words: string, count: number) {
  const gone = marksOf(item, tagsBack(item)).filter((mark) => mark === words).length;
  const listed = linesListed(item).filter(({ value }) => wordsInLine(value.words) === words);
  const all = listed.reduce((sum, { value }) => sum + value.count, 0);
  return words !== "" && count <= gone && all <= gone && !marksOf(item, tagsHere(item)).includes(words);
}
