/**
 * The loads that left on a day, by all that this device knows; worked out anew only after something of it has changed.
 */
import { type Load, loadsThatLeft, notCome, takenOut } from "../job/loads.ts";
import type { DayRecord } from "../job/types.ts";
import { derived } from "./derived.ts";
import { device, recordOf, records } from "./memory.ts";

export const loadsOfDay = derived((day_id: string): Load[] => {
  const day = recordOf("day", day_id);
  return day
    ? loadsThatLeft({ day, items: records("item") ?? [], containers: records("container") ?? [] })
    : [];
});

/** A load that left, and the day on which it did. */
export type LoadHere = { load: Load; day: DayRecord };

/** The loads of all days that this device holds: of an earlier one those of which something has yet to come. */
export function loadsHere(): LoadHere[] {
  const works_on = device.value?.day_id;
  return (records("day") ?? []).flatMap((day) =>
    loadsOfDay(day.record_id).flatMap((load) =>
      day.record_id === works_on || !works_on || notCome(load).length + takenOut(load).length
        ? { load, day }
        : [],
    ),
  );
}

/** A load by its id, of whatever day that is here. */
export function loadHere(load_id: string): LoadHere | undefined {
  return (records("day") ?? [])
    .flatMap((day) => loadsOfDay(day.record_id).map((load) => ({ load, day })))
    .find(({ load }) => load.id === load_id);
}
