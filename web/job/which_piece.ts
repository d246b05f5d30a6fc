/** On which of the pieces of a thing something was found, in words. */
import { countInWords, ordinalInWords, spelled, withoutArticle } from "./english.ts";
import type { FindingValue, ListedPiece } from "./fields.ts";
import { wordsInLine } from "./in_line.ts";
import { linesListed } from "./listed_pieces.ts";
import { piecesCounted } from "./pieces.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { pieceOfSide } from "./with_owner.ts";

type Fields = Pick<RecordCopy, "fields">;

export const NOT_NOTED = "not-noted";
const PIECE = "piece";

/** How many pieces a finding may be on; 1 of a thing that nobody counted, or counted as one. */
export function piecesOf(item: Fields): number {
  const { said, walked, numbered } = piecesCounted(item);
  return said || walked || numbered || 1;
}

/** How many they are, in a word where their name has that: "fourteen die-cast vehicles" are no "14". */
export function piecesInWords(item: Fields, count: number): string {
  const name = (fieldValue(item, "short_description") ?? "").toLowerCase().split(/[^\p{L}-]+/u);
  return countInWords(count, name.includes(spelled(count)));
}

/** Whether a finding is on one piece of several, or on some, and not on all. */
export function isOnSomePieces(item: Fields, { piece, piece_count: count }: FindingValue) {
  const all = piecesOf(item);
  return count ? count < all : all > 1 && Boolean(piece) && piece !== NOT_NOTED;
}

export function isNumber(piece: string) {
  return /^\d/.test(piece);
}

/** How the two of a pair are told apart, as somebody has begun to: a side of each, or the first and the second. */
export function pairToldBy(item: RecordCopy): "side" | "order" | null {
  if (pieceOfSide(item, "left")) return "side";
  const said = listed(item, "findings/").flatMap(({ value }) => (value.withdrawn ? [] : (value.piece ?? [])));
  if (said.some((piece) => piece === "left" || piece === "right")) return "side";
  return said.some(isNumber) ? "order" : null;
}

/** What somebody has said already of how one piece is told from the others; "" if nobody did. */
export function pieceToldBy(item: Fields, piece: string): string {
  const of = listed(item, "findings/").find(
    ({ value }) => !value.withdrawn && value.piece === piece && ownWords(value),
  );
  return of ? ownWords(of.value) : "";
}

/** Which of them it is in the words of who saw it, where none has a number: "the one with the bent prong". */
export function ownWords({ piece_words }: FindingValue): string {
  return (piece_words ?? "")
    .replaceAll(";", ",")
    .replace(/[\s.,:]+$/, "")
    .trim();
}

/** "two of the six", "both", "the left one", "piece 3 of the six", by the `noun` of one; "" if it is not said. */
export function whichPiece(item: Fields, finding: FindingValue, noun = PIECE): string {
  const { piece, piece_count: count } = finding;
  const words = ownWords(finding);
  const all = piecesOf(item);
  const ofAll = all > 1 && Number(count ?? piece ?? 0) <= all ? ` of the ${piecesInWords(item, all)}` : "";
  if (count && count === all && all > 1) return all === 2 ? "both" : `all ${piecesInWords(item, all)}`;
  const told = words && ` (${words})`;
  const line = lineOf(item, finding);
  if (line) return ofLine(line, count ?? 1);
  if (count) return countInWords(count, true) + (ofAll || " of them") + told;
  if (!piece || piece === NOT_NOTED) return "";
  return onePiece(piece, noun, all, ofAll) + told;
}

/** The line of the list of pieces whose words a finding has. */
export function lineOf(item: Fields, finding: FindingValue): ListedPiece | null {
  const own = ownWords(finding);
  const lines = own && !finding.piece ? linesListed(item).map(({ value }) => value) : [];
  const line = lines.find(({ words }) => wordsInLine(words) === own);
  return line && line.count >= (finding.piece_count ?? 1) ? line : null;
}

/**
 * "the mustard pot", "both sauce ladles", "two of the three napkin rings (with a crest)": so many of a line as the list
 * calls it.
 */
export function ofLine(
  { words: typed, count: all }: Pick<ListedPiece, "words" | "count">,
  count: number,
): string {
  const [, words = "", more = ""] = /^([^,]+)(?:, (.+))?$/.exec(wordsInLine(typed)) ?? [];
  const name = withoutArticle(words || wordsInLine(typed));
  const told = more && ` (${more})`;
  if (all === 1) return `the ${name}${told}`;
  if (count === all) return `${all === 2 ? "both" : `all ${countInWords(all)}`} ${name}${told}`;
  return `${countInWords(count, true)} of the ${countInWords(all)} ${name}${told}`;
}

function onePiece(piece: string, noun: string, all: number, ofAll: string): string {
  if (all === 2 && isNumber(piece)) return piece === "1" ? "the first" : "the second";
  // A volume with a number is known by the one on its spine, which may be another.
  const place = noun === PIECE || !ofAll ? null : ordinalInWords(Number(piece));
  if (place) return `the ${place}${ofAll}`;
  return isNumber(piece) ? `${noun} ${piece}${ofAll}` : `the ${piece} one`;
}
