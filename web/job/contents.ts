/** What lies in what, and goes with it, as those who carry it know it; where a thing is says `custody.ts`. */

import { isHeldApart } from "./cautions.ts";
import { APART, containerIdOf, placedWords, placeWords, thingName, type Where, whereIs } from "./custody.ts";
import { listInWords } from "./english.ts";
import type { TagValue } from "./fields.ts";
import { isInParts, isUnderOne, partWords } from "./number_parts.ts";
import { oneThing } from "./one_thing.ts";
import { piecesCounted } from "./pieces.ts";
import { tagsOf } from "./progress.ts";
import { isStoppedFor, stillWords, stopsOn } from "./stopped.ts";
import { shown } from "./tag.ts";
import type { ItemRecord, RecordCopy, ThingRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { countBack, isBackWithOwner, isLater, pieceCount, tagsHere } from "./with_owner.ts";
import { countWords } from "./words.ts";

/** Shelves are told apart; a trip or a table that somebody noted makes no place of its own. */
export function spotWords({ place, at }: Pick<Where, "place" | "at">, words = placeWords(place)) {
  const shelf = place === "shelf" ? at.trim() : "";
  return `${words}${shelf ? ` ${shelf}` : ""}`;
}

/** Where something lies among other things of the house, as a part of a sentence: "in crate 7K3-QW5, store, bay 3". */
export function liesWords({ place, at, inside }: Where): string {
  const placed = placedWords(place, at, placeWords(place).toLowerCase());
  return [...inside.map((outer) => `in ${thingName(outer)}`), placed].join(", ");
}

/**
 * The piece that a number moves by itself, in words; "" of a thing in one piece, which moves as a whole. What stays
 * while a piece is back with its owner moves by its number, too: the whole would take along what is not here.
 */
export function pieceMoved(thing: ThingRecord, tag: string): string {
  const value = fieldValue(thing, `tags/${tag}`);
  const isApart = tagsOf(thing).length > 1 || (thing.kind === "item" && countBack(thing) > 0);
  return value && isApart ? `, ${partWords(thing, value)}` : "";
}

/** What lies directly in each container, whole or in pieces, by the container's id. */
export type ContentsOfEach = ReadonlyMap<string, readonly ThingRecord[]>;

/** Looked up in one pass over the things: a day has dozens of containers, and hundreds of things in them. */
export function contentsOfEach(things: Iterable<ThingRecord>): ContentsOfEach {
  const contents = new Map<string, ThingRecord[]>();
  for (const thing of things)
    for (const container_id of holdersOf(thing)) {
      const held = contents.get(container_id) ?? [];
      contents.set(container_id, held);
      held.push(thing);
    }
  return contents;
}

/** The containers in which a thing lies directly: several if its pieces do not lie together. */
function holdersOf(record: ThingRecord): ReadonlySet<string> {
  if (fieldValue(record, "merged")?.into_id && record.doubles?.length) return new Set();
  const thing = oneThing(record);
  const isVoid = (tag: string) => fieldValue(thing, `tags/${tag}`)?.gone === "taken-back";
  const apart = listed(thing, "inside/").flatMap(({ id }) => (isVoid(id) ? [] : id));
  const tied = tagsHere(thing); // a number that went home says nothing of the rest
  const tags = [...apart, ...(tied.length ? tied : [undefined])];
  return new Set(tags.flatMap((tag) => containerIdOf(thing, tag) ?? []));
}

/** All that is in a container at any depth, each once; not what went back to its owner. */
export function allInside(container: ThingRecord, contents: ContentsOfEach): ThingRecord[] {
  const found = new Set<ThingRecord>([container]);
  for (const outer of found)
    for (const inner of contents.get(outer.record_id) ?? []) if (!isBackWithOwner(inner)) found.add(inner);
  return [...found].slice(1);
}

/** Why a thing is not carried to a place, with all that is in it, in words; null if nothing speaks against it. */
export function whyNotCarried(
  thing: ThingRecord,
  kind: "record_move" | "put_inside",
  to: string,
  things: ThingRecord[],
): string | null {
  for (const moved of [thing, ...allInside(thing, contentsOfEach(things))]) {
    const what = moved === thing ? thingName(moved) : `${thingName(thing)} holds ${thingName(moved)}, which`;
    if (isStoppedFor(moved, kind, () => true)) return `${what} is stopped. ${stillWords(stopsOn(moved))}`;
    if (!APART.has(to) && isHeldApart(moved))
      return `${what} is held apart: isolation only${moved === thing ? "" : ". Take that out first"}`;
  }
  return null;
}

/** Why a number says nothing of where its thing is, in words; null if it may: it was voided as the thing went home. */
export function whyVoid(thing: ThingRecord, tag: string): string | null {
  const gone = listed(thing, "tags/").find(({ id }) => id === tag);
  if (gone?.value.gone !== "taken-back") return null;
  // A number that was on it before is another piece's: what comes again gets a fresh one.
  const isOfIt = (one: TagValue) => one.piece === gone.value.piece || one.of === 1 || gone.value.of === 1;
  const now = listed(oneThing(thing), "tags/")
    .filter(({ value, set }) => !value.gone && isLater(set, gone.set) && isOfIt(value))
    .map(({ value }) => shown(value.tag));
  const why = `is void, since ${thingName(thing)} went back to its owner under it`;
  if (now.length) return `${why} and came again: it bears ${listInWords(now)} now`;
  return `${why}. If it is here all the same, take it to a table, where a fresh tag is tied to it`;
}

/** The items in a container, at any depth. */
export function itemsWithin(container: ThingRecord, contents: ContentsOfEach): ItemRecord[] {
  return allInside(container, contents).filter((thing) => thing.kind === "item");
}

/** Whether all of a thing is with its owner, also inside a container that went there. */
export function isWithOwner(item: ItemRecord, byId: Map<string, ThingRecord>) {
  return isBackWithOwner(item) || whereIs(item, byId).place === "returned";
}

/**
 * Which of an item's pieces are in a container: "2 of 3 here"; empty if all of it is. Of a set under one number that is
 * on all that have none of their own; of one whose numbers are on parts, which of these. `lacking` were not there as
 * they were counted.
 */
export function piecesHere(item: RecordCopy, container_id: string, lacking = 0) {
  const thing = oneThing(item);
  const tags = tagsOf(thing).filter((tag) => containerIdOf(item, tag) === container_id);
  const numbered = pieceCount(item);
  if (isInParts(item)) {
    const parts = tags.flatMap((tag) => fieldValue(thing, `tags/${tag}`) ?? []);
    const missing = lacking ? `, ${countWords(lacking, "piece")} missing` : "";
    return `here: ${listInWords(parts.map((part) => partWords(item, part)))}${missing}`;
  }
  const of = isUnderOne(item) ? piecesCounted(item).said : numbered;
  const isFirst = (tag: string) => (fieldValue(thing, `tags/${tag}`)?.piece ?? 1) === 1;
  const here = tags.length + (tags.some(isFirst) ? of - numbered : 0);
  return of > 1 ? `${Math.max(0, here - lacking)} of ${of} here` : "";
}
