/** What is where: each place with what stands there loose, read off the records, with no network. */

import { contentsOfEach, isWithOwner, itemsWithin, spotWords } from "./contents.ts";
import { PLACES, piecesOf, thingName, type Where, whereIs } from "./custody.ts";
import type { Place } from "./fields.ts";
import { isNotCome } from "./not_come.ts";
import { partWords } from "./number_parts.ts";
import { referredTo } from "./referred.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "./types.ts";
import { fieldValue } from "./values.ts";
import { countBack, tagsHere } from "./with_owner.ts";
import { countWords, firstUpper } from "./words.ts";

const BY_WORDS = new Intl.Collator("en", { numeric: true });

/** A thing, or a piece of one, that stands there by itself; `tag` is undefined if no number is on it. */
export type Standing = { thing: ThingRecord; tag: string | undefined; words: string };
/**
 * A place, each shelf by itself; `items` are all that are there, those in containers as well, each once. What was not
 * there as it was unpacked stands first, at no place.
 */
export type AtPlace = { place: Place | null; words: string; standing: Standing[]; items: number };

/** The places at which something is, in the order of the way; what went back to its owner is no longer ours to list. */
export function whatIsWhere(items: ItemRecord[], containers: ContainerRecord[]): AtPlace[] {
  const things: ThingRecord[] = [...items, ...containers];
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const places = new Map<string, AtPlace & { held: Set<string> }>();
  const missed: Standing[] = [];
  const put = (where: Where, standing: Standing, within: ItemRecord[]) => {
    if (where.place === "returned" || where.inside.length) return;
    const key = spotWords(where);
    const at = places.get(key) ?? {
      place: where.place,
      words: key,
      standing: [],
      items: 0,
      held: new Set(),
    };
    places.set(key, at);
    at.standing.push(standing);
    for (const { record_id } of within) at.held.add(record_id);
  };
  const contents = contentsOfEach(things);
  for (const container of containers) {
    const within = itemsWithin(container, contents).filter((item) => !isNotCome(item));
    const words = `${firstUpper(container.kind_of)}: ${countWords(within.length, "item")}`;
    put(whereIs(container, byId), { thing: container, tag: container.number, words }, within);
  }
  for (const item of items) {
    if (fieldValue(item, "merged")?.into_id) continue; // the record it stands behind is the thing
    if (referredTo(item)) continue; // gone, with whoever it was referred to
    if (isWithOwner(item, byId)) continue;
    if (isNotCome(item)) {
      missed.push(missedAs(item, byId));
      continue;
    }
    const pieces = piecesOf(item, byId).filter(({ where }) => where.place !== "returned");
    const name = firstUpper(thingName(item));
    const [first] = pieces;
    if (!first) put(whereIs(item, byId), { thing: item, tag: undefined, words: name }, [item]);
    for (const { tag, where, ...number } of pieces) {
      const isAlone = pieces.length === 1 && !countBack(item);
      put(where, { thing: item, tag, words: isAlone ? name : `${name}, ${partWords(item, number)}` }, [item]);
    }
  }
  const rank = ({ place }: AtPlace) => PLACES.findIndex(([key]) => key === place);
  const nowhere = {
    place: null,
    words: "Not there as it was unpacked",
    standing: missed,
    items: missed.length,
  };
  const known = [...places.values()]
    .map(({ place, words, standing, held }) => ({ place, words, standing, items: held.size }))
    .sort((a, b) => rank(a) - rank(b) || BY_WORDS.compare(a.words, b.words));
  return missed.length ? [nowhere, ...known] : known;
}

function missedAs(item: ItemRecord, byId: Map<string, ThingRecord>): Standing {
  const [tag] = tagsHere(item);
  const [inner] = whereIs(item, byId, tag).inside;
  const name = firstUpper(thingName(item));
  return { thing: item, tag, words: inner ? `${name}, not in ${thingName(inner)}` : name };
}
