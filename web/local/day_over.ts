/** Whether the day that this device holds is over by its own clock, and the office has not been heard since. */
import { computed, signal } from "@preact/signals-core";
import { isOver } from "../job/day_over.ts";
import { dayOfWork, rememberDevice } from "./device.ts";
import { device, records } from "./memory.ts";

const HOUR_MS = 3_600_000;
const looked = signal(0);

/** The clock went on: what hangs on it is looked at anew. */
export function lookAtClock() {
  looked.value += 1;
}

/** Then owners' words stay out of sight until the office answers. A desk holds no day, and a porter no owner. */
export const isDayOver = computed(() => {
  looked.value;
  const known = device.value;
  if (!known || known.role === "desk" || known.role === "porter") return false;
  const days = records("day") ?? [];
  const works_on = dayOfWork(known);
  const day = days.find(({ record_id }) => record_id === works_on) ?? (works_on ? null : days[0]);
  const now = Date.now() + known.clock_offset_ms;
  return Boolean(day && isOver(day, known.role === "manager", now, known.answered_at));
});

/** The office has answered. That is written down once an hour, and at once where something waits for it. */
export async function noteAnswered() {
  const known = device.peek();
  if (!known) return;
  const now = Date.now() + known.clock_offset_ms;
  lookAtClock();
  if (isDayOver.peek() || Math.abs(now - (known.answered_at ?? 0)) > HOUR_MS)
    await rememberDevice({ answered_at: now });
}
