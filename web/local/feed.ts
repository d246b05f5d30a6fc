/** What others have done, as the office tells it page by page. */
import type { RecordCopy } from "../job/types.ts";
import { write } from "./changes.ts";

/** Records that have changed up to `cursor`; another `epoch` is another office's file, or one that was restored. */
export type FeedPage = { records: RecordCopy[]; cursor: number; epoch: string };

/** Store a page: records and cursor in one transaction, so that neither is ahead of the other. */
export function storeFeed({ records, cursor, epoch }: FeedPage) {
  return write(["record", "setting"], async (tx) => {
    const device = await tx.setting("device");
    if (!device) return;
    if (device.epoch !== epoch) await tx.clearRecords();
    for (const record of records) await tx.put("record", record);
    if (device.epoch !== epoch || device.cursor !== cursor)
      await tx.remember("device", { ...device, epoch, cursor });
  });
}
