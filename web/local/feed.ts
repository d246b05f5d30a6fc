/** What others have done, as the office tells it page by page. */
import type { RecordCopy } from "../job/types.ts";
import { write } from "./changes.ts";

/** Records that have changed up to `cursor`, of the office's file that is called `epoch`. */
export type FeedPage = { records: RecordCopy[]; cursor: number; epoch: string };

/**
 * Store a page: records and cursor in one transaction, so that neither is ahead of the other. A record stays as it was
 * until its replacement is here; what this device sends again then shows on top of that one, which may lack it.
 */
export function storeFeed({ records, cursor, epoch }: FeedPage) {
  return write(["record", "outbox", "setting"], async (tx) => {
    const device = await tx.setting("device");
    if (!device) return;
    const anew = new Set(records.map(({ record_id }) => record_id));
    for (const op of (await tx.setting("forgotten"))?.done_at === null ? await tx.oldest() : [])
      if (op.again === "kept" && anew.has(op.record_id)) await tx.put("outbox", { ...op, again: undefined });
    for (const record of records) await tx.put("record", record);
    if (device.epoch !== epoch || device.cursor !== cursor)
      await tx.remember("device", { ...device, epoch, cursor });
  });
}
