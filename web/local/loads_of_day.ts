/**
 * The loads that left on a day, by all that this device knows; worked out anew only after something of it has changed.
 */
import { isReplaced, type Load, loadsThatLeft, notCome, takenOut } from "../job/loads.ts";
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

/** The loads of all days that this device holds. */
export function loadsHere(): LoadHere[] {
  return (records("day") ?? []).flatMap((day) => loadsOfDay(day.record_id).map((load) => ({ load, day })));
}

/** Whether something of a load of another day than the device's own has yet to come; of its own each may be asked. */
export function isToCome({ load, day }: LoadHere): boolean {
  const works_on = device.value?.day_id;
  const isOwn = !works_on || day.record_id === works_on;
  return !isReplaced(load) && (isOwn || notCome(load).length + takenOut(load).length > 0);
}

/** A load by its id, of whatever day that is here. */
export function loadHere(load_id: string): LoadHere | undefined {
  return loadsHere().find(({ load }) => load.id === load_id);
}
