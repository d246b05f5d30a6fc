/** Tickets at the door: how many are left in this device's run. */

import { nextTicket } from "../../job/tickets.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { waiting } from "../../local/memory.ts";

type TicketsOf = { day: DayRecord; device: ThisDevice; visits: readonly VisitRecord[] };

/** Which ticket comes next, and at a door in plain words when its run is short, used up, or was never given. */
export function TicketsLeft({ day, device, visits }: TicketsOf) {
  if (device.role === "porter") return null;
  const { ticket, left, isFew, hasRun } = nextTicket(day, visits, device, waiting.value);
  if (!isFew || (!left && !hasRun && device.role !== "door"))
    return (
      <p class="hint">
        Next ticket: <strong class="ticket">{ticket}</strong>
        {left ? `, ${left} left` : ""}
      </p>
    );
  const what = hasRun ? "out more" : "it some";
  const more =
    device.role === "manager"
      ? `Give ${what} on the Day screen.`
      : `The manager gives ${what} on the Day screen.`;
  const none = hasRun ? "All tickets of this device are given out" : "No tickets were given to this device";
  return (
    <p class="bar">
      {left
        ? `${countWords(left, "ticket")} left on this device, the next is ${ticket}.`
        : `${none}. It goes on with letters of its own: the next is ${ticket}.`}{" "}
      {more}
    </p>
  );
}
