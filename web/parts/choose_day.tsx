/** In place of what is shown of a day: that none is chosen on this device or none is here, or that it is being read. */

import type { DayRecord } from "../job/types.ts";
import { useRecords } from "./use.ts";

/** A device that was just paired has heard of none yet, and a screen where it is chosen has none to choose. */
export const NO_DAY = "No valuation day is on this device yet.";
export const AWAIT_DAY = "The manager sets it up; stay in reach of the network until it appears here.";

/** `on` is the screen where a role chooses the day. */
export function ChooseDayFirst({ day, on }: { day: DayRecord | null | undefined; on: "Day" | "Today" }) {
  const days = useRecords("day");
  if (day !== null) return <p>Reading …</p>;
  return <p>{days?.length ? `Choose the day first, on the ${on} screen.` : `${NO_DAY} ${AWAIT_DAY}`}</p>;
}
