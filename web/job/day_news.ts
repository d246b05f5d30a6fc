/** Which news concern a screen that shows one day, and how often it asks for what is made of the whole day. */
import type { News } from "./desk.ts";

/** So many times as long as an answer took nobody asks again: it costs the office a fifth of its time at most. */
export const REST = 4;

/** Whether news may tell of this day: a record of it changed, or nobody can say which did. */
export function isNewsOf(day_id: string, { changed }: News) {
  return !changed || changed.some(([, , , of_day]) => of_day === day_id);
}
