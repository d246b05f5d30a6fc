/** What is compared when a container is opened: only what is in it, piece by piece. */

import { HAS_COME, leftToCompare, numbersLying } from "./compared.ts";
import { spotWords } from "./contents.ts";
import { piecesOf, placeWords, whereIs } from "./custody.ts";
import type { FindingValue, PhotoValue, TagValue, Whereabouts } from "./fields.ts";
import { partWords, piecesUnder } from "./number_parts.ts";
import { oneThing } from "./one_thing.ts";
import { countAlike } from "./piece_open.ts";
import { backInPart } from "./pieces.ts";
import { photosOf } from "./progress.ts";
import { takenAway } from "./referred.ts";
import { shown } from "./tag.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "./types.ts";
import { type Listed, listed } from "./values.ts";
import { fieldOfPiece, isLater, pieceCount, piecesAway as piecesBack, tagsHere } from "./with_owner.ts";
import { spaced } from "./words.ts";

/**
 * What there is to compare an item with: the photographs of before it was packed, else what was found on it, with how
 * many zones were looked at. `fresh` are those that were taken since: they show how it came, and prove nothing of how
 * it was.
 */
export type Comparison = {
  photos: Listed<PhotoValue>[];
  fresh: Listed<PhotoValue>[];
  found: FindingValue[];
  looked: number;
};

export function comparisonOf(item: ItemRecord): Comparison {
  const { inside } = item.fields;
  const packed = [...(inside ? [inside] : []), ...listed(item, "inside/").map(({ set }) => set)];
  const since = packed.length ? packed : cameLoose(item);
  const isFresh = ({ set }: Listed<PhotoValue>) => since.some((put) => isLater(set, put));
  const found = listed(item, "findings/").map(({ value }) => value);
  return {
    photos: photosOf(item).filter((photo) => !isFresh(photo)),
    fresh: photosOf(item).filter(isFresh),
    found: found.filter(({ withdrawn, certainty }) => !withdrawn && certainty !== "told"),
    looked: listed(item, "zones/").filter(({ value }) => value.state !== "not-examined").length,
  };
}

/** What never lay in anything is as it came from when it was moved to the store on. */
function cameLoose(item: ItemRecord) {
  const tags = listed(item, "tags/").map(({ id }) => fieldOfPiece(item, "whereabouts", id));
  return [item.fields.whereabouts, ...tags].flatMap((moved) =>
    moved && HAS_COME.has((moved.value as Whereabouts).to_place) ? moved : [],
  );
}

/** Whether anything of how it was is on record; else a fresh photograph is all that can be had. */
export function isComparable({ photos, found, looked }: Comparison): boolean {
  return photos.length > 0 || found.length > 0 || looked > 0;
}

/**
 * Pieces of an item that are not where its container is, or, of one that came loose, where the item itself is, in
 * words: none of them can be "as recorded" there. A piece in another container at the same place has come, too; on
 * another shelf it has not. A piece with no number of its own nobody can have scanned into anything. What went back to
 * its owner is not waited for.
 */
export function piecesAway(
  item: ItemRecord,
  container: ContainerRecord | null,
  things: ThingRecord[],
): string[] {
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const here = spotWords(container ? whereIs(container, byId) : wherePiecesAre(item, byId));
  const back = piecesBack(item);
  const away = piecesOf(item, byId)
    .filter(({ piece, where }) => !back.includes(piece) && spotWords(where) !== here)
    .map(
      ({ tag, where, ...number }) =>
        `${partWords(item, number)}, ${shown(tag)}: ${spotWords(where, placeWords(where.place).toLowerCase())}`,
    );
  return [...away, ...withoutNumber(item, back)];
}

/** At the store if one of its pieces is. */
function wherePiecesAre(item: ItemRecord, byId: Map<string, ThingRecord>) {
  const places = piecesOf(item, byId).map(({ where }) => where);
  return places.find(({ place }) => HAS_COME.has(place)) ?? whereIs(item, byId);
}

/** Whether a thing that is in nothing has come to the store, and nobody has compared it with what is on record. */
export function isLooseToCompare(item: ItemRecord, byId: Map<string, ThingRecord>): boolean {
  if (takenAway(item)) return false;
  const left = leftToCompare(item, null, byId).length > 0;
  if (numbersLying(item, null, byId).length) return left;
  const { place, inside } = wherePiecesAre(item, byId);
  return HAS_COME.has(place) && !inside.length && left;
}

/**
 * How many pieces of an item are to be counted before it is as recorded: as many as somebody counted, else as have a
 * number each, such as a pot and its cover. What went back is not waited for. `lying` are its numbers that lie there,
 * if others lie elsewhere: the first is on all that has no number of its own.
 */
export function piecesToCount(item: ItemRecord, lying: readonly string[] = []): number {
  const alike = countAlike(item);
  if (!lying.length) return (alike || pieceCount(item)) - backInPart(item);
  if (!alike) return lying.length;
  const elsewhere = tagsHere(item).filter((tag) => !lying.includes(tag));
  const first = listed(oneThing(item), "tags/").filter(({ value }) => (value.piece ?? 1) === 1);
  const hasFirst = first.some(({ id }) => lying.includes(id));
  const own = hasFirst ? alike - backInPart(item) - piecesUnder(item, elsewhere) : piecesUnder(item, lying);
  return Math.max(1, own);
}

/** A number that left a thing in these ways says nothing of how many pieces there are. */
const NO_PIECE: ReadonlySet<string | null> = new Set(["taken-back", "on-another-item"]);

/** The pieces that an item has by what its tags say, and that bear no number now, but those that are `back`. */
function withoutNumber(item: ItemRecord, back: readonly number[]): string[] {
  const tags = listed(item, "tags/").map(({ value }) => value);
  const of = Math.max(1, ...tags.map((tag) => (NO_PIECE.has(tag.gone) ? 1 : (tag.of ?? 1))));
  if (of === 1) return []; // it is whole, and compared by its pictures
  const tied = new Set([...back, ...tags.flatMap(({ gone, piece }) => (gone ? [] : [piece]))]);
  return Array.from({ length: of }, (_, index) => index + 1).flatMap((piece) =>
    tied.has(piece) ? [] : `piece ${piece} of ${of}: ${whyNoNumber(tags.find((tag) => tag.piece === piece))}`,
  );
}

function whyNoNumber(tag: TagValue | undefined): string {
  return tag ? `its tag ${shown(tag.tag)} is ${spaced(tag.gone)}` : "no tag is on it";
}
