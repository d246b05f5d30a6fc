/**
 * When this device heard that a day was closed or is over: by the office's clock alone, in the round in which it came.
 * A phone's clock may be months off, that of whoever closed the day as well as this one's.
 */
import type { Writing } from "./changes.ts";
import type { Closings } from "./database.ts";

/** What stands for the operation that closed it, of a day that is over without one. */
const OVER = "over";

/** Note which days the office says are closed, or else over. A day whose record has left this device stays noted. */
export async function noteClosings(tx: Writing, office_time: string, over = ""): Promise<Closings> {
  const before = (await tx.setting("closings")) ?? {};
  const now: Closings = {};
  for (const [day_id, { by, heard_at }] of Object.entries(before))
    now[day_id] = { by, heard_at: heard_at || office_time };
  for (const { record_id, fields } of await tx.days()) {
    const by = fields.closed?.operation_id ?? (record_id === over ? OVER : "");
    if (!by) delete now[record_id];
    else if (now[record_id]?.by !== by) now[record_id] = { by, heard_at: office_time };
  }
  if (JSON.stringify(now) !== JSON.stringify(before)) await tx.remember("closings", now);
  return now;
}

/** The same of an office that has lost something: its time begins anew. */
export function unheard(closings: Closings): Closings {
  return Object.fromEntries(Object.entries(closings).map(([id, { by }]) => [id, { by, heard_at: "" }]));
}
