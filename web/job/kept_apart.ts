/**
 * What is held apart lies by itself: in a container of its own, or in one that stands in isolation. The office refuses
 * the rest as well (`check_among` in `intake/custody/containers.py`); `fixtures/among.json` holds both to the same.
 */

import { isHeldApart, sameThing } from "./cautions.ts";
import { contentsOfEach, itemsWithin } from "./contents.ts";
import { APART, thingName, thingsByNumber, whereIs } from "./custody.ts";
import { listInWords } from "./english.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "./types.ts";

/** What is held apart in a container, at any depth, that does not stand in isolation. */
export function heldApartIn(container: ThingRecord, things: readonly ThingRecord[]): ItemRecord[] {
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  if (whereIs(container, byId).place === "isolation") return [];
  return itemsWithin(container, contentsOfEach(things)).filter(isHeldApart);
}

/** Whether all that is in a container is held apart: then it goes where they go. */
export function isOfIsolation(container: ThingRecord, things: readonly ThingRecord[]): boolean {
  return itemsWithin(container, contentsOfEach(things)).every(isHeldApart);
}

/**
 * Why a thing does not go among what is in a container, in words; null if nothing speaks against it. The outermost
 * counts: what lies in the next box is carried along.
 */
export function whyNotAmong(
  thing: ThingRecord,
  container: ContainerRecord,
  things: readonly ThingRecord[],
): string | null {
  const byId = new Map(things.map((one) => [one.record_id, one]));
  const { place, inside } = whereIs(container, byId);
  if (place === "isolation") return null;
  const contents = contentsOfEach(things);
  const put = thing.kind === "item" ? [thing] : itemsWithin(thing, contents);
  const same = new Set(put.flatMap(sameThing).map(({ record_id }) => record_id));
  const outermost = inside.at(-1) ?? container;
  const there = itemsWithin(outermost, contents).filter(({ record_id }) => !same.has(record_id));
  const apart = put.find(isHeldApart);
  if (apart && !there.every(isHeldApart)) {
    const what = apart === thing ? thingName(thing) : `${thingName(thing)} holds ${thingName(apart)}, which`;
    return `${what} is held apart: take it to isolation, or into a container of its own`;
  }
  const held = there.find(isHeldApart);
  if (held && !put.every(isHeldApart))
    return `${thingName(outermost)} holds ${thingName(held)}, which is held apart: nothing else goes in`;
  return null;
}

/** By name what has to come out of a container among other things, and what is done with it; "" if nothing. */
export function apartWords(container: ThingRecord, things: readonly ThingRecord[]): string {
  const held = heldApartIn(container, things);
  if (!held.length) return "";
  const [is, it] = held.length > 1 ? ["are", "them"] : ["is", "it"];
  const names = `${listInWords(held.map(thingName))} ${is} held apart`;
  if (isOfIsolation(container, things))
    return `${names}: ${thingName(container)} goes to isolation and nowhere else. Its label has to say so.`;
  return `${names}: take ${it} out of ${thingName(container)} and to isolation, before it is sealed or carried on.`;
}

/** What is held apart among what was scanned, a line for each number that is, or holds, some of it. */
export function apartAmong(
  numbers: readonly string[],
  items: ItemRecord[],
  containers: ContainerRecord[],
): string[] {
  const things = [...items, ...containers];
  const byNumber = thingsByNumber(items, containers);
  const byId = new Map<string, ThingRecord>(things.map((thing) => [thing.record_id, thing]));
  const scanned = new Set(numbers.flatMap((number) => byNumber.get(number) ?? []));
  return [...scanned].flatMap((thing) => {
    if (thing.kind === "container") return apartWords(thing, things) || [];
    if (!isHeldApart(thing) || APART.has(whereIs(thing, byId).place)) return [];
    return `${thingName(thing)} is held apart: take it out and to isolation.`;
  });
}
