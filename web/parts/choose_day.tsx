/** In place of what is shown of a day: that none is chosen on this device or none is here, or that it is being read. */

import type { DayRecord } from "../job/types.ts";
import type { Role } from "../local/device.ts";
import { useDevice, useRecords } from "./use.ts";

const STAY = "tay in reach of the network until it appears here";

/** A device that was just paired has heard of none yet, and a screen where it is chosen has none to choose. */
export function NoDayYet({ role }: { role: Role | undefined }) {
  return (
    <>
      <p class="lead">No valuation day is on this device yet.</p>
      {role === "manager" ? (
        <>
          <p>S{STAY}, or set it up yourself.</p>
          <p>
            <a class="button main" href="#/day">
              Set up the day
            </a>
          </p>
        </>
      ) : (
        <p>The manager sets it up; s{STAY}.</p>
      )}
    </>
  );
}

/** `on` is the screen where a role chooses the day. */
export function ChooseDayFirst({ day, on }: { day: DayRecord | null | undefined; on: "Day" | "Today" }) {
  const days = useRecords("day");
  const device = useDevice();
  if (day !== null) return <p>Reading …</p>;
  return days?.length ? <p>Choose the day first, on the {on} screen.</p> : <NoDayYet role={device?.role} />;
}
