/**
 * Of what is counted as a pair or a set it is said on which of it something was found, or that nobody noted it. That
 * some of a thing have numbers of their own is no set: a pot and its cover are no pair.
 */
import type { FindingValue } from "./fields.ts";
import { piecesCounted } from "./pieces.ts";
import { BEFORE_NOUN, BESIDE, MISSING, PIECE_NOUNS, SAYS_WHICH } from "./receipt_lists.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { isNumber, NOT_NOTED, ownWords } from "./which_piece.ts";

/** The zone of all of it. */
const WHOLE = "outline";
/** Zones that are beside the pieces of a set, and on none of them. */
const BESIDE_PIECES: ReadonlySet<string> = new Set(BESIDE.split(" "));
/** Words of a note that say which piece a fault is on, or on how many; see the office's receipts. */
const BY_THEMSELVES = new RegExp(SAYS_WHICH, "i");
const WITH_A_NOUN = new RegExp(BEFORE_NOUN, "gi");
/** Nouns for a piece, whatever the set is of. */
const NOUNS: ReadonlySet<string> = new Set(PIECE_NOUNS.split(" "));

/** How many pieces were counted by themselves, else on the walk; 0 if nobody counted. */
export function countAlike(item: Pick<RecordCopy, "fields">): number {
  const { said, walked } = piecesCounted(item);
  return said || walked;
}

/** In the line of a receipt: "on the left one", "on piece 3", "on 2 of the pieces (those with a gilt rim)". */
export function pieceInLine(finding: FindingValue): string {
  const { piece, piece_count: count } = finding;
  const words = ownWords(finding);
  const told = words && ` (${words})`;
  if (count) return `on ${count} of the pieces${told}`;
  if (!piece || piece === NOT_NOTED) return "";
  return (isNumber(piece) ? `on piece ${piece}` : `on the ${piece} one`) + told;
}

/** Whether a finding is a fault of one or some of the pieces; what is missing of all of it is none of them. */
export function isOfPieces({ severity, zone, term }: FindingValue): boolean {
  return severity > 0 && !BESIDE_PIECES.has(zone) && !(zone === WHOLE && term in MISSING);
}

/** Whether nothing says which of several pieces a fault is on. */
export function isPieceOpen(item: Pick<RecordCopy, "fields">, finding: FindingValue): boolean {
  return isOfPieces(finding) && !pieceInLine(finding) && !saysWhich(item, finding.note ?? "");
}

/** Whether a note says which piece it speaks of: "the left vase" of two vases, but not "the left ear". */
export function saysWhich(item: Pick<RecordCopy, "fields">, note: string) {
  if (BY_THEMSELVES.test(note)) return true;
  const called = (fieldValue(item, "short_description") ?? "").toLowerCase().split(/[^\p{L}]+/u);
  return [...note.matchAll(WITH_A_NOUN)].some(([, noun = ""]) => {
    const word = noun.toLowerCase();
    return NOUNS.has(word) || called.some((name) => isOneNoun(name, word));
  });
}

/** "knife" and "knives", "glass" and "glasses": one noun as the name and the note have it. */
function isOneNoun(a: string, b: string) {
  const [short, long] = a.length < b.length ? [a, b] : [b, a];
  // Of the shortest, such as "key", no more than an s is told apart from the beginning of another noun.
  if (short.length > 1 && (long === short || long === `${short}s`)) return true;
  const stem = short.replace(/(?:s|f|fe|y)$/, "");
  return (
    stem.length > 2 &&
    long.startsWith(stem) &&
    /^(?:s?(?:es)?|ve|ves|ies?|ys?|fe?)$/.test(long.slice(stem.length))
  );
}
