/**
 * Whether a day is over by a device's own clock: by the closing that it holds, or by its date where it holds none. The
 * office says so by its own rule, and its answer counts; this is for a device that has not heard it.
 */
import { HOURS } from "./day_times.ts";
import type { DayRecord } from "./types.ts";
import { fieldValue } from "./values.ts";

export const HOUR_MS = 3_600_000;

/** `answered`: when the office answered last and did not take the day away; both in milliseconds by one clock. */
export function isOver(day: DayRecord, isOffice: boolean, now: number, answered = 0): boolean {
  const closed = day.fields.closed;
  if (!closed && isOffice) return false; // whoever closes days closes one that was left open, however late
  const name = !closed ? "left-open" : isOffice ? "settled-after-closing" : "worked-on-after-closing";
  const time = HOURS[name] * HOUR_MS;
  const from = closed
    ? Date.parse(closed.made_at)
    : Date.parse(fieldValue(day, "held_on") ?? day.held_on) + 24 * HOUR_MS; // by the end of its date
  const over = from + time;
  // It may have been opened again, and what is owed stays here: an answer since then lasts as long once more.
  const counts = answered >= over && answered <= now && now < answered + time;
  return now >= over && !counts;
}
