/** What differs as a container is unpacked, or is not in it, is a difference of the day at once. */

import { thingName } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";

/** A piece that is not here is short; else what is here differs. */
export function raiseDiffers(item: ItemRecord, away: string[]) {
  return keep("raise_difference", {
    day_id: item.day_id,
    difference_id: newId(),
    difference: away.length ? "piece-short" : "new-damage",
    thing_id: item.record_id,
    words: away.length
      ? `${thingName(item)}, not all of it came: ${away.join("; ")}`
      : `${thingName(item)} differs from what was recorded of it at the table`,
    owner_told: false,
    told: "",
  });
}

/** None of it is there: its day has it as missing, at once. */
export function raiseMissed(item: ItemRecord, container: ContainerRecord | null) {
  return keep("raise_difference", {
    day_id: item.day_id,
    difference_id: newId(),
    difference: "item-short",
    thing_id: item.record_id,
    words: container
      ? `${thingName(item)} was not in ${thingName(container)} as that was unpacked`
      : `${thingName(item)} was not there as it was to be compared`,
    owner_told: false,
    told: "",
  });
}

/** What was noted of it as missing, and is not settled yet. */
export function missedOf({ day_id, record_id }: ItemRecord): string[] {
  const day = recordOf("day", day_id);
  if (!day) return [];
  return listed(day, "differences/").flatMap(({ id, value }) =>
    value.difference === "item-short" &&
    value.thing_id === record_id &&
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
