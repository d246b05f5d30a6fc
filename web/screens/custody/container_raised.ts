/** What differs as a container is unpacked, or is not in it, is a difference of the day at once. */

import { numbersInWords } from "../../job/compared.ts";
import { thingName } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import { recordWith } from "../../job/one_thing.ts";
import type { CheckIn } from "../../job/operations.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { recordOf } from "../../local/memory.ts";
import { amend, keep } from "../../local/outbox.ts";

/** A piece that is not here is short; else what is here differs. */
export function raiseDiffers(item: ItemRecord, tags: readonly string[], away: string[]) {
  return keep("raise_difference", {
    day_id: item.day_id,
    difference_id: newId(),
    difference: away.length ? "piece-short" : "new-damage",
    thing_id: item.record_id,
    words: away.length
      ? `${thingName(item)}, not all of it came: ${away.join("; ")}`
      : `${called(item, tags)} differs from what was recorded of it at the table`,
    owner_told: false,
    told: "",
  });
}

type Said = Pick<CheckIn, "state" | "words" | "second_by"> & Partial<Pick<CheckIn, "pieces" | "of">>;

/** Of each number that lies here by itself, where others lie elsewhere; else of all of it. Read off its own record. */
export async function keepChecks(item: ItemRecord, tags: readonly string[], said: Said) {
  for (const { item_id, tag } of recordsOf(item, tags)) await keep("check_in", { item_id, tag, ...said });
}

/** What is written of it stands with each of them. */
export async function amendChecks(item: ItemRecord, tags: readonly string[], words: string) {
  for (const { item_id, tag } of recordsOf(item, tags)) await amend("check_in", { item_id, tag, words });
}

function recordsOf(item: ItemRecord, tags: readonly string[]) {
  const each = tags.length ? tags : [null];
  return each.map((tag) => ({ item_id: (tag ? recordWith(item, tag) : item).record_id, tag }));
}

/** None of it is there: its day has it as missing, at once. */
export function raiseMissed(item: ItemRecord, tags: readonly string[], container: ContainerRecord | null) {
  return keep("raise_difference", {
    day_id: item.day_id,
    difference_id: newId(),
    difference: "item-short",
    thing_id: item.record_id,
    words: container
      ? `${called(item, tags)} was not in ${thingName(container)} as that was unpacked`
      : `${called(item, tags)} was not there as it was to be compared`,
    owner_told: false,
    told: "",
  });
}

/** What it is called, with the numbers of which this is said where it is not of all of it. */
function called(item: ItemRecord, tags: readonly string[]) {
  return [thingName(item), tags.length && numbersInWords(item, tags)].filter(Boolean).join(", ");
}

/** What was noted of it, or of these numbers of it, as missing, and is not settled yet. */
export function missedOf({ day_id, record_id }: ItemRecord, tags: readonly string[]): string[] {
  const day = recordOf("day", day_id);
  if (!day) return [];
  return listed(day, "differences/").flatMap(({ id, value }) =>
    value.difference === "item-short" &&
    value.thing_id === record_id &&
    (!tags.length || tags.some((tag) => value.words.includes(shown(tag)))) &&
    !fieldValue(day, `difference-ends/${id}`)
      ? id
      : [],
  );
}

/** It was there after all. */
export async function raiseFound({ day_id }: ItemRecord, missed: readonly string[], second_by: string) {
  for (const difference_id of missed)
    await keep("settle_difference", { day_id, difference_id, ended: "found", words: "", second_by });
}
