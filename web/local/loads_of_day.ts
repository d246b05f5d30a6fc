/**
 * The loads that left on a day, by all that this device knows; worked out anew only after something of it has changed.
 */
import { type Load, loadsThatLeft } from "../job/loads.ts";
import { derived } from "./derived.ts";
import { recordOf, records } from "./memory.ts";

export const loadsOfDay = derived((day_id: string): Load[] => {
  const day = recordOf("day", day_id);
  return day
    ? loadsThatLeft({ day, items: records("item") ?? [], containers: records("container") ?? [] })
    : [];
});
