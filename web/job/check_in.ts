/** What is compared when a container is opened: only what is in it, piece by piece. */

import { piecesOf, placeWords, spotWords, whereIs } from "./custody.ts";
import type { TagValue } from "./fields.ts";
import { shown } from "./tag.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "./types.ts";
import { listed } from "./values.ts";
import { spaced } from "./words.ts";

/**
 * Pieces of an item that are not where its container is, in words: none of them can be "as recorded" there. A piece in
 * another container at the same place has come, too; on another shelf it has not. A piece with no number of its own
 * nobody can have scanned into anything.
 */
export function piecesAway(item: ItemRecord, container: ContainerRecord, things: ThingRecord[]): string[] {
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const here = spotWords(whereIs(container, byId));
  const away = piecesOf(item, byId)
    .filter(({ where }) => spotWords(where) !== here)
    .map(
      ({ tag, piece, of, where }) =>
        `piece ${piece} of ${of}, ${shown(tag)}: ${spotWords(where, placeWords(where.place).toLowerCase())}`,
    );
  return [...away, ...withoutNumber(item)];
}

/** A number that left a thing in these ways says nothing of how many pieces there are. */
const NO_PIECE: ReadonlySet<string | null> = new Set(["taken-back", "on-another-item"]);

/** The pieces that an item has by what its tags say, and that bear no number now. */
function withoutNumber(item: ItemRecord): string[] {
  const tags = listed(item, "tags/").map(({ value }) => value);
  const of = Math.max(1, ...tags.map((tag) => (NO_PIECE.has(tag.gone) ? 1 : (tag.of ?? 1))));
  if (of === 1) return []; // it is whole, and compared by its pictures
  const tied = new Set(tags.flatMap(({ gone, piece }) => (gone ? [] : [piece])));
  return Array.from({ length: of }, (_, index) => index + 1).flatMap((piece) =>
    tied.has(piece) ? [] : `piece ${piece} of ${of}: ${whyNoNumber(tags.find((tag) => tag.piece === piece))}`,
  );
}

function whyNoNumber(tag: TagValue | undefined): string {
  return tag ? `its tag ${shown(tag.tag)} is ${spaced(tag.gone)}` : "no tag is on it";
}
