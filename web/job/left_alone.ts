/** What is stopped and left alone keeps everybody from the containers round it: nobody opens what holds it. */

import { contentsOfEach, itemsWithin } from "./contents.ts";
import { thingName, whereIs } from "./custody.ts";
import { isLeftAlone } from "./stopped.ts";
import type { ItemRecord, ThingRecord } from "./types.ts";

/** What is left alone in a container, or beside it in what that stands in, at any depth. */
export function leftAloneIn(container: ThingRecord, things: readonly ThingRecord[]): ItemRecord[] {
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const outermost = whereIs(container, byId).inside.at(-1) ?? container;
  return itemsWithin(outermost, contentsOfEach(things)).filter(isLeftAlone);
}

/**
 * Why a thing, or the piece of it that has a tag, does not leave what it lies in, in words; null if nothing speaks
 * against it. The office refuses it as well (`check_beside`).
 */
export function whyNotTakenOut(thing: ThingRecord, things: readonly ThingRecord[], tag?: string) {
  const byId = new Map(things.map((one) => [one.record_id, one]));
  const within = whereIs(thing, byId, tag).inside.at(-1);
  const [stopped] = within ? leftAloneIn(within, things) : [];
  if (!within || !stopped) return null;
  return `lies in ${thingName(within)} with ${thingName(stopped)}, which is stopped: nobody opens that`;
}
