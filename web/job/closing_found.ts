/** A difference that a closing names: what is known of each, and whose thing it is on. */

import { type DifferenceKind, keyOf } from "./closing_kinds.ts";
import { type piecesOf, thingName } from "./custody.ts";
import { numbersShown } from "./number_parts.ts";
import { oneThing } from "./one_thing.ts";
import { tagsOf } from "./progress.ts";
import type { DayRecord, FieldValue, ItemRecord, ThingRecord } from "./types.ts";

/** So many numbers are named in one line. */
const MOST_NAMED = 12;

/** Some of several by their names, and how many more there are: "7K3-QW5, 7K3-QW6 and 3 more". */
export function someOf<One>(
  all: readonly One[],
  nameOf: (one: One) => string,
  { between = ", ", most = MOST_NAMED } = {},
): string {
  const more = all.length - most;
  const named = all.slice(0, most).map((one) => nameOf(one));
  return `${named.join(between)}${more > 0 ? ` and ${more} more` : ""}`;
}

/**
 * A difference: of what kind, in words, the address where to look, and what it is known by (`keyOf`). `former` is by
 * what closings of before know one whose words name things: it changed as one of those got another name. `holds` is
 * what is on record of it, without which nobody is offered to say so: that it was decided on, or that it is to be
 * kept apart; that its owner was told; that the owner is still here, or has left and no telephone number is known.
 */
export type Found = {
  kind: DifferenceKind;
  words: string;
  at: string;
  key: string;
  former?: string;
  holds?: "decided" | "apart" | "told" | "here" | "no-number";
};

/** Its kind and its words; and, where those name something else that may get another name, what it is of by ids. */
export type Named = [kind: DifferenceKind, words: string, of?: string];

export type Things = Map<string, ThingRecord>;

export type Pieces = ReturnType<typeof piecesOf>;

/** Whose an item is, what it is and which numbers are on it. */
export function itemNamed(item: ItemRecord, ticket: string): string {
  const tags = numbersShown(item, tagsOf(oneThing(item)));
  return `${ticket}, ${thingName(item)}${tags ? ` ${tags}` : ""}`;
}

/** By what it says, if its words name nothing that may get another name; else by what it is `of`, in ids. */
export function knownBy(
  kind: string,
  record_id: string,
  words: string,
  of = "",
): Pick<Found, "key" | "former"> {
  const former = keyOf(kind, record_id, words);
  return of ? { key: keyOf(kind, record_id, of), former } : { key: former };
}

/** A difference about an item, whose name stands before it. */
export function onItem(
  item: ItemRecord,
  ticket: string,
  kind: DifferenceKind,
  words: string,
  of?: string,
): Found {
  return {
    kind,
    words: `${itemNamed(item, ticket)}: ${words}`,
    at: `#/item/${item.record_id}`,
    ...knownBy(kind, item.record_id, words, of),
  };
}

/** Whether somebody made it who is not on the day's list: a Stop is taken from anybody. */
export function isNobodyOf(day: DayRecord, { made_by }: FieldValue) {
  return Boolean(made_by) && !day.fields[`people/${made_by}`];
}
