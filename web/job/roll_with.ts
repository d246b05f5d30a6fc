/** Whose roll a number is of: a table ties its numbers to things, so that they are neither a seal's nor a crate's. */
import { isRollOf, NO_DEVICE, type RollCount } from "./custody.ts";
import type { LabelKind } from "./labels_asked.ts";
import { parseTag, serialOf } from "./tag.ts";
import type { DayRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

type Holder = Pick<RollCount, "given_to" | "for_device_id">;

/** Who has the roll of the day that a number is of, as it was typed or scanned; null for one that is of none. */
export function rollWith(day: DayRecord | null | undefined, typed: string): Holder | null {
  if (!day) return null;
  try {
    const serial = serialOf(parseTag(typed));
    const roll = listed(day, "rolls/").find(({ value }) => {
      const at = serial - serialOf(value.first_tag);
      return at >= 0 && at < value.count;
    });
    if (!roll) return null;
    return fieldValue(day, `roll-holders/${roll.id}`) ?? { given_to: "", for_device_id: null };
  } catch {
    return null; // it is no number of ours
  }
}

/** What the label of a number was printed for, by the newest print that has it; "" if none is on record. */
export function printedFor(day: DayRecord | null | undefined, number: string): LabelKind | "" {
  if (!day) return "";
  const serial = serialOf(number);
  const prints = listed(day, "prints/").filter(({ value }) =>
    value.rows.some(({ first_tag, count }) => {
      const at = serial - serialOf(first_tag);
      return at >= 0 && at < count;
    }),
  );
  const newest = prints.sort((a, b) => (a.set.made_at < b.set.made_at ? -1 : 1)).at(-1);
  return newest?.value.label ?? "";
}

/** The name of whoever else has the roll that a number is of; "" where this device may take it. */
export function rollOfAnother(
  day: DayRecord | null | undefined,
  number: string,
  device: { device_id: string; name: string } | null,
): string {
  const roll = rollWith(day, number);
  if (
    !roll ||
    (device && isRollOf(roll, device)) ||
    NO_DEVICE.some((name) => name === roll.given_to.toLowerCase())
  )
    return "";
  return roll.given_to;
}
