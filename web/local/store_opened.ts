/** An entry is kept as it is opened at a desk; with the desk's screens, since no other device opens any. */
import type { EntryPage } from "../job/desk.ts";
import { write } from "./changes.ts";
import { settingIn, transact } from "./database.ts";
import type { Opened } from "./opened.ts";
import { sendWhatHangsOn } from "./sent_again.ts";

/** So many entries stay. */
const MOST = 30;

export function openedEntry(item_id: string): Promise<Opened | undefined> {
  return transact(["setting"], "readonly", (tx) => settingIn(tx, `entry ${item_id}`));
}

/**
 * Keep an entry as the office tells it in place of the one that was opened longest ago, whose records go with the next
 * reading of the feed. A record that the feed has brought further meanwhile stays as it is. What was refused and
 * may be taken now, by what these say, goes again: no item comes to a desk by the feed.
 */
export function storeOpened(page: EntryPage, read_at: string): Promise<Opened> {
  const { records, ...rest } = page;
  const item_id = records[0]?.record_id ?? "";
  const opened = { ...rest, read_at, record_ids: records.map(({ record_id }) => record_id) };
  return write(["record", "outbox", "refused", "setting"], async (tx) => {
    await sendWhatHangsOn(tx, records);
    for (const record of records) {
      const known = await tx.get("record", record.record_id);
      if (!known || (known.office_seq ?? 0) <= (record.office_seq ?? 0)) await tx.put("record", record);
    }
    await tx.remember(`entry ${item_id}`, opened);
    const before = (await tx.setting("opened")) ?? [];
    const order = [item_id, ...before.filter((id) => id !== item_id)];
    await tx.remember("opened", order.slice(0, MOST));
    for (const id of order.slice(MOST)) await tx.delete("setting", `entry ${id}`);
    return opened;
  });
}
