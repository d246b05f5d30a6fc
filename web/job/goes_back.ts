/** What of a thing can go back to its owner by itself, and what it is taken out of then. */

import { sameThing } from "./cautions.ts";
import { oneThing, recordWith } from "./one_thing.ts";
import type { ItemRecord, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { countBack, fieldOfPiece, pieceCount, tagsHere } from "./with_owner.ts";

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

/** The pieces that are here and can go by themselves: while others stay, under one number each. */
export function piecesToGive(item: ItemRecord): { piece: number; tag: string }[] {
  if (pieceCount(item) - countBack(item) < 2) return [];
  const here = tagsHere(item).map((tag) => ({
    tag,
    piece: fieldValue(oneThing(item), `tags/${tag}`)?.piece ?? 1,
  }));
  const isEach = new Set(here.map(({ piece }) => piece)).size === here.length;
  return isEach ? here.sort((a, b) => a.piece - b.piece) : [];
}

/** What all of it, or the one `piece`, is taken out of. */
export function outOf(item: ItemRecord, tags: readonly string[], piece: string | undefined): Inside[] {
  if (piece) {
    const container_id = liesIn(item, piece);
    return container_id ? [{ thing_id: recordWith(item, piece).record_id, tag: piece, container_id }] : [];
  }
  return sameThing(item).flatMap((on) =>
    [null, ...tags.filter((tag) => recordWith(item, tag) === on)].flatMap((tag) => {
      const container_id = insideOf(on, tag);
      return container_id ? [{ thing_id: on.record_id, tag, container_id }] : [];
    }),
  );
}
