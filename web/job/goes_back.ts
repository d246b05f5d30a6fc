/** What of a thing can go back to its owner by itself, and what it is taken out of then. */

import { sameThing } from "./cautions.ts";
import { piecesBack } from "./number_parts.ts";
import { oneThing, recordWith } from "./one_thing.ts";
import { countAlike } from "./piece_open.ts";
import type { ItemRecord, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { countBack, fieldOfPiece, pieceCount, piecesAway, tagsHere } from "./with_owner.ts";

export type Inside = { thing_id: string; tag: string | null; container_id: string };

function insideOf(item: RecordCopy, tag: string | null) {
  return fieldValue(item, tag ? `inside/${tag}` : "inside")?.container_id;
}

/** What a thing lies in, or a piece of it by itself or with the whole. */
export function liesIn(item: RecordCopy | null | undefined, tag: string | null) {
  if (!item || !tag) return item && insideOf(item, null);
  const lies = fieldOfPiece(item, "inside", tag)?.value as { container_id: string | null } | undefined;
  return lies?.container_id;
}

export type PieceToGive = { piece: number; tags: string[] };

/**
 * The pieces that are here and can go by themselves, while others stay: each with its number, or the numbers that two
 * records of it have. While more were counted than have a number, the first is on all that have none of their own.
 */
export function piecesToGive(item: ItemRecord): PieceToGive[] {
  const of = pieceCount(item);
  if (of - countBack(item) < 2) return [];
  const thing = oneThing(item);
  const each = new Map<number, string[]>();
  for (const tag of tagsHere(item)) {
    const piece = fieldValue(thing, `tags/${tag}`)?.piece ?? 1;
    each.set(piece, [...(each.get(piece) ?? []), tag]);
  }
  return [...each]
    .filter(([piece, tags]) => isOnePiece(item, tags) && !(piece === 1 && countAlike(item) > of))
    .map(([piece, tags]) => ({ piece, tags }))
    .sort((a, b) => a.piece - b.piece);
}

/** Whether numbers that are on one piece are each of another record: two of one record may be on two things. */
function isOnePiece(item: ItemRecord, tags: readonly string[]) {
  return new Set(tags.map((tag) => recordWith(item, tag))).size === tags.length;
}

/**
 * Which piece one that has no number of its own gets, as it goes back, and of how many; null while each has its own, or
 * nothing but it is here.
 */
export function pieceWithoutNumber(item: ItemRecord): { piece: number; of: number } | null {
  const [of, counted, here] = [pieceCount(item), countAlike(item), tagsHere(item)];
  const tied = new Set(here.map((tag) => fieldValue(oneThing(item), `tags/${tag}`)?.piece ?? 1));
  if (!tied.size || counted - piecesBack(item) <= tied.size) return null;
  if (counted > of) return { piece: of + 1, of: of + 1 };
  const away = piecesAway(item);
  const all = Array.from({ length: of }, (_, index) => index + 1);
  const piece = all.find((one) => !tied.has(one) && !away.includes(one));
  return piece ? { piece, of } : null;
}

/** What all of it, or the one `piece`, is taken out of. */
export function outOf(item: ItemRecord, tags: readonly string[], piece?: PieceToGive): Inside[] {
  if (piece)
    return piece.tags.flatMap((tag) => {
      const container_id = liesIn(item, tag);
      return container_id ? [{ thing_id: recordWith(item, tag).record_id, tag, container_id }] : [];
    });
  return sameThing(item).flatMap((on) =>
    [null, ...tags.filter((tag) => recordWith(item, tag) === on)].flatMap((tag) => {
      const container_id = insideOf(on, tag);
      return container_id ? [{ thing_id: on.record_id, tag, container_id }] : [];
    }),
  );
}
