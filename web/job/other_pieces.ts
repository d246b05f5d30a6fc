/** The other pieces of a pair or a set, where what was found on a zone is on some of them: the rim of the sound one. */
import { type Described, seenFindings, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { linesListed } from "./listed_pieces.ts";
import { backInPart } from "./pieces.ts";
import { type Place, placesOf } from "./places.ts";
import { fieldValue, groupedBy } from "./values.ts";
import { isNumber, isOnSomePieces, piecesOf } from "./which_piece.ts";

/** What the other of two is called by its side. */
const OPPOSITE: Record<string, string> = { left: "right", right: "left", upper: "lower", lower: "upper" };

/** What the pieces are called of which nothing was found on a zone; "" if there are none, or nobody knows that. */
function othersOn(
  { record }: Described,
  key: string,
  isMeant: (found: FindingValue) => boolean,
): { words: string; many: boolean } | null {
  // What unlike pieces have no part of, such as a hinge, nobody looked at; nor has the whole a name of its own.
  if (key === WHOLE || linesListed(record).length) return null;
  const all = piecesOf(record);
  const found = seenFindings(record).filter(({ value }) => value.zone === key && isMeant(value));
  if (all < 2 || !found.length || !found.every(({ value }) => isOnSomePieces(record, value))) return null;
  if (fieldValue(record, `zones/${key}`)?.state !== "finding") return null;
  const named = new Set(found.flatMap(({ value }) => (value.piece_count ? [] : (value.piece ?? []))));
  const counted = found.reduce((sum, { value }) => sum + (value.piece_count ?? 0), 0);
  const left = all - backInPart(record) - named.size - counted;
  if (left < 1) return null;
  if (left > 1) return { words: "the others", many: true };
  const [piece = ""] = named;
  // Where a side is told of another fault, "the other" would be that of the other side.
  const isSideTold = seenFindings(record).some(({ value }) => value.piece && isOnSomePieces(record, value));
  if (all === 2 && !piece && isSideTold) return { words: "one of the two", many: false };
  if (all > 2 || !piece) return { words: "the other", many: false };
  if (isNumber(piece)) return { words: piece === "1" ? "the second" : "the first", many: false };
  return { words: OPPOSITE[piece] ? `the ${OPPOSITE[piece]} one` : "the other one", many: false };
}

/** Whether a zone is sound on others of the pieces, for all that is known. */
export function isSoundOnOthers(described: Described, key: string) {
  return othersOn(described, key, isAny) !== null;
}

/** "The rim of the right one", "the joints and the sewing of the others" */
export function placesOnOthers(
  described: Described,
  keys: readonly string[],
  isMeant: (found: FindingValue) => boolean = isAny,
): Place[] {
  const { plan, book } = described;
  const groups = groupedBy([...keys], (key) => JSON.stringify(othersOn(described, key, isMeant)));
  return [...groups.values()].flatMap((some) => {
    const others = othersOn(described, some[0] ?? "", isMeant);
    if (!others) return [];
    const { words, many } = placesOf(plan, book, some, others.many ? "nothing" : "all");
    return { words: `${words} of ${others.words}`, many };
  });
}

function isAny(_: FindingValue) {
  return true;
}
