/** What of a day is where, by what this device knows; worked out anew only after a thing of the day has changed. */
import { type AtPlace, whatIsWhere } from "../job/where_list.ts";
import { derived } from "./derived.ts";
import { records } from "./memory.ts";

export const placesOfDay = derived((day_id: string): AtPlace[] =>
  whatIsWhere(records("item", day_id) ?? [], records("container", day_id) ?? []),
);
