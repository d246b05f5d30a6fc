/**
 * Of what is counted as a pair or a set it is said on which of it something was found, or that nobody noted it. That
 * some of a thing have numbers of their own is no set: a pot and its cover are no pair.
 */
import type { FindingValue } from "./fields.ts";
import { piecesCounted, SET } from "./pieces.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { isNumber, NOT_NOTED, ownWords } from "./which_piece.ts";

/** Zones that are beside the pieces of a set, and on none of them. */
const BESIDE: readonly string[] = [
  ...[SET, "documents", "note-paper", "papers", "packaging"],
  ...["box", "box-flaps", "slipcase", "extras", "accessories"],
];
/**
 * Words of a note that say which piece a fault is on, or on how many: with a noun for a piece, or of all of them, or by
 * themselves at the end of what they say. A number alone is a year or the hour on a clock's face, and what is left of
 * the handle is on no left one. The office's receipts go by the same.
 */
const NUMBERS = "one|two|three|four|five|six|\\d+";
const ONES =
  "first|second|third|fourth|fifth|sixth|last|(?:larg|small|tall|short)(?:er|est)|other|another|odd";
const ALL = "all|both|each|every|either|neither";
const BEFORE_NOUN = new RegExp(`\\b(?:${ALL}|${NUMBERS}|${ONES}|left|right)(?:-hand)? (?=(\\w+))`, "gi");
const AT_ITS_END = String.raw`(?= *(?:$|[,.;:]| (?:and|is|are|has|have|only|from)\b))`;
const SAYS_WHICH = new RegExp(
  [
    String.raw`\b(?:piece|number|no|nr)s?\.? \d|\bthe (?:first|second|third|fourth|fifth|sixth)\b`,
    String.raw`\b(?:${ALL}|${NUMBERS}|${ONES}|left|right) of (?:them\b|these\b|the (?:${NUMBERS}|set|pair|pieces)\b)`,
    String.raw`\b(?:the (?:${ONES})|both|each|neither|all(?: (?:${NUMBERS}))?)${AT_ITS_END}`,
  ].join("|"),
  "i",
);
/** Nouns for a piece, whatever the set is of. */
const PIECE_NOUNS = ["one", "ones", "piece", "pieces", "example", "examples"];

/** How many pieces were counted by themselves, else on the walk; 0 if nobody counted. */
export function countAlike(item: Pick<RecordCopy, "fields">): number {
  const { said, walked } = piecesCounted(item);
  return said || walked;
}

/** In the line of a receipt: "on the left one", "on piece 3", "on 2 of the pieces (those with a gilt rim)". */
export function pieceInLine(finding: FindingValue): string {
  const { piece, piece_count: count } = finding;
  const words = ownWords(finding);
  if (count) return `on ${count} of the pieces${words && ` (${words})`}`;
  if (!piece || piece === NOT_NOTED) return "";
  return isNumber(piece) ? `on piece ${piece}` : `on the ${piece} one`;
}

/** Whether a finding is a fault of one or some of the pieces. */
export function isOfPieces({ severity, zone }: FindingValue): boolean {
  return severity > 0 && !BESIDE.includes(zone);
}

/** Whether nothing says which of several pieces a fault is on. */
export function isPieceOpen(item: Pick<RecordCopy, "fields">, finding: FindingValue): boolean {
  return isOfPieces(finding) && !pieceInLine(finding) && !saysWhich(item, finding.note ?? "");
}

/** Whether a note says which piece it speaks of: "the left vase" of two vases, but not "the left ear". */
export function saysWhich(item: Pick<RecordCopy, "fields">, note: string) {
  if (SAYS_WHICH.test(note)) return true;
  const called = (fieldValue(item, "short_description") ?? "").toLowerCase().split(/[^\p{L}]+/u);
  return [...note.matchAll(BEFORE_NOUN)].some(([, noun = ""]) => {
    const word = noun.toLowerCase();
    return PIECE_NOUNS.includes(word) || called.some((name) => isOneNoun(name, word));
  });
}

/** "knife" and "knives", "glass" and "glasses": one noun as the name and the note have it. */
function isOneNoun(a: string, b: string) {
  const [short, long] = a.length < b.length ? [a, b] : [b, a];
  const stem = short.replace(/(?:s|f|fe|y)$/, "");
  return (
    stem.length > 2 &&
    long.startsWith(stem) &&
    /^(?:s?(?:es)?|ve|ves|ies?|ys?|fe?)$/.test(long.slice(stem.length))
  );
}
