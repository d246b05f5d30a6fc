/**
 * The entries that were opened last at a desk, so that they open at once and a lost line shows what was there. A desk
 * keeps no copy of the house: whatever else it shows it asks the office for.
 */
import type { EntryPage } from "../job/desk.ts";
import { type Writing, write } from "./changes.ts";
import { dropWordsOfFilters } from "./filters_erased.ts";

/** An entry as it was told last; its records stand among the device's own. */
export type Opened = Omit<EntryPage, "records" | "list"> & { record_ids: string[]; read_at: string };

/** The records that stay here for the entries that were opened last. */
export async function openedRecords(tx: Writing): Promise<Set<string>> {
  const ids = new Set<string>();
  for (const item_id of (await tx.setting("opened")) ?? [])
    for (const id of (await tx.setting(`entry ${item_id}`))?.record_ids ?? []) ids.add(id);
  return ids;
}

/** Let go of entries: of all, or of those that are named. Their records go with the next reading of the feed. */
export async function forgetOpened(tx: Writing, goes: (opened: Opened) => boolean = () => true) {
  const stay: string[] = [];
  for (const item_id of (await tx.setting("opened")) ?? []) {
    const opened = await tx.setting(`entry ${item_id}`);
    if (!opened || goes(opened)) await tx.delete("setting", `entry ${item_id}`);
    else stay.push(item_id);
  }
  await tx.remember("opened", stay);
}

/**
 * Words of these records were erased: what was kept here for an entry goes at once, and is asked for anew. Words of
 * saved filters go with any erasure.
 */
export function forgetErased(record_ids: string[]): Promise<void> {
  return write(["record", "outbox", "setting"], async (tx) => {
    await dropWordsOfFilters(tx);
    const lent = await openedRecords(tx);
    const erased = record_ids.filter((id) => lent.has(id));
    if (!erased.length) return;
    await forgetOpened(tx, (opened) => opened.record_ids.some((id) => erased.includes(id)));
    const works_on = (await tx.setting("device"))?.day_id;
    for (const id of erased) {
      const of_day = (await tx.get("record", id))?.day_id;
      if (of_day !== works_on && !(await tx.waitingOn(id)).length) await tx.delete("record", id);
    }
  });
}
