/** What is compared when a container is opened: only what is in it, piece by piece. */

import { piecesOf, placeWords, whereIs } from "./custody.ts";
import { shown } from "./tag.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "./types.ts";

/**
 * Pieces of an item that are not where its container is, in words: none of them can be "as recorded" there. A piece in
 * another container at the same place has come, too.
 */
export function piecesAway(item: ItemRecord, container: ContainerRecord, things: ThingRecord[]): string[] {
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const here = whereIs(container, byId);
  return piecesOf(item, byId)
    .filter(({ where }) => where.place !== here.place)
    .map(
      ({ tag, piece, of, where }) =>
        `piece ${piece} of ${of}, ${shown(tag)}: ${placeWords(where.place).toLowerCase()}`,
    );
}
