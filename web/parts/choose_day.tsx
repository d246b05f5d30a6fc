/** In place of what is shown of a day: that none is chosen on this device, or that it is being read. */

import type { DayRecord } from "../job/types.ts";

/** `on` is the screen where a role chooses the day. */
export function ChooseDayFirst({ day, on }: { day: DayRecord | null | undefined; on: "Day" | "Today" }) {
  return <p>{day === null ? `Choose the day first, on the ${on} screen.` : "Reading …"}</p>;
}
