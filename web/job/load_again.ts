/** A load whose two counts differ still, read off the record: whoever counted it can count it again. */

import { thingName, thingsByNumber, toWords } from "./custody.ts";
import type { LoadValue } from "./fields.ts";
import { loadsInOrder } from "./loads_counted.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "./types.ts";
import { listed } from "./values.ts";
import { movesInOrder } from "./with_owner.ts";
import { countWords } from "./words.ts";

type Counts = Pick<LoadValue, "crates" | "pieces" | "scanned_crates" | "scanned_pieces" | "taken_by">;

export type LoadToCount = { load_id: string; load: LoadValue; difference_id: string; words: string };

/** Both counts of a load: "Ana counted 2 crates and 1 loose piece; scanned: 1 and 1". */
export function bothCounts({ taken_by, crates, pieces, scanned_crates, scanned_pieces }: Counts) {
  const byHand = `${countWords(crates, "crate")} and ${countWords(pieces, "loose piece")}`;
  return `${taken_by} counted ${byHand}; scanned: ${scanned_crates} and ${scanned_pieces}`;
}

/** What the closing is told of two counts that differ. */
export function differenceOfCounts({ to_place, at, ...counts }: Counts & Pick<LoadValue, "to_place" | "at">) {
  return `Load ${toWords(to_place, at)}: ${bothCounts(counts)}`;
}

/**
 * The load that left last by this device's count, with the difference that this has raised: while that has not ended,
 * and nothing of the load was counted at the store.
 */
export function loadToCountAgain(day: DayRecord, device_id: string): LoadToCount | null {
  const loads = listed(day, "loads/");
  const left = loads.filter(
    ({ value, set }) => value.to_place === "van" && !value.of_load && set.device_id === device_id,
  );
  const last = loadsInOrder(left).at(-1);
  if (!last || loads.some(({ value }) => value.of_load === last.id)) return null;
  const words = differenceOfCounts(last.value);
  const raised = listed(day, "differences/").findLast(
    ({ id, value, set }) =>
      value.difference === "load-count" &&
      value.words === words &&
      set.device_id === device_id &&
      !day.fields[`difference-ends/${id}`],
  );
  return raised
    ? { load_id: last.id, load: last.value, difference_id: raised.id, words: bothCounts(last.value) }
    : null;
}

/**
 * What a count goes on with, if it is of that load: its difference, and who drives it. It is if it was begun as that,
 * also if something was taken out since, or if it has all that the load had.
 */
export function goesOnWith(
  toCount: LoadToCount | null,
  again: string | undefined,
  counted: readonly string[],
) {
  const numbers = toCount?.load.numbers ?? [];
  const hasAll = numbers.length > 0 && numbers.every((number) => counted.includes(number));
  return toCount && (again === toCount.load_id || hasAll)
    ? { before: toCount.difference_id, drove: toCount.load.driver ?? "" }
    : { before: "", drove: "" };
}

/** What was scanned of a load, the newest first, as it stood on the screen: what each has put on record is its move. */
export function scannedOf({ load }: LoadToCount, items: ItemRecord[], containers: ContainerRecord[]) {
  const byNumber = thingsByNumber(items, containers);
  return [...(load.numbers ?? [])].map((tag) => {
    const thing = byNumber.get(tag);
    const moves = thing ? movesInOrder(thing) : [];
    const moved = moves.findLast(
      ({ value }) => value.to_place === load.to_place && (!value.tag || value.tag === tag),
    );
    const words = `${thing ? thingName(thing) : "this"}: ${toWords(load.to_place, load.at)}`;
    const { operation_id = "" } = moved?.set ?? {};
    const before = moved?.value.from_place ?? "holding";
    return { tag, words, done: { words, operation_id, before }, of_day: thing?.day_id };
  });
}
