/** Whether the day that this device holds is over by its own clock, and the office has not been heard since. */
import { computed, signal } from "@preact/signals-core";
import { HOUR_MS, isOver } from "../job/day_over.ts";
import { dayOfWork, rememberDevice, type ThisDevice } from "./device.ts";
import { device, records } from "./memory.ts";

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
  return Boolean(day && isOver(day, known.role === "manager", momentOf(known), known.answered_at));
});

/** By this device's clock, put right. */
const momentOf = ({ clock_offset_ms }: ThisDevice) => Date.now() + clock_offset_ms;

/** The date of now where this device is, by the same clock. */
export const today = computed(() => {
  looked.value;
  const { clock_offset_ms = 0 } = device.value ?? {};
  const now = new Date(Date.now() + clock_offset_ms);
  return dateOf(now.getFullYear(), now.getMonth(), now.getDate());
});

const dateOf = (...local: [year: number, month: number, date: number]) =>
  new Date(Date.UTC(...local)).toISOString().slice(0, 10);

/** The office has answered. That is written down once an hour, and at once where something waits for it. */
export async function noteAnswered() {
  const known = device.peek();
  if (!known) return;
  const now = momentOf(known);
  lookAtClock();
  if (isDayOver.peek() || Math.abs(now - (known.answered_at ?? 0)) > HOUR_MS)
    await rememberDevice({ answered_at: now });
}
