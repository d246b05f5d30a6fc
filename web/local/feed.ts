/** What others have done, as the office tells it page by page. */
import type { RecordCopy } from "../job/types.ts";
import { write } from "./changes.ts";
import { scopeOf } from "./day.ts";
import { daysCounting } from "./owed_count.ts";
import { sendWhatHangsOn } from "./sent_again.ts";

/**
 * Records that have changed up to `cursor`, of the office's file that is called `epoch`; `day_id` is the day on which
 * this device works, as far as the office can tell, and `awaits` those which it holds as well.
 */
export type FeedPage = {
  records: RecordCopy[];
  cursor: number;
  epoch: string;
  day_id?: string;
  awaits?: readonly string[];
};

/**
 * Store a page: records and cursor in one transaction, so that neither is ahead of the other. A record stays as it was
 * until its replacement is here; what this device sends again then shows on top of that one if the office lacks it.
 * What was refused and may be taken now, by what these say, goes again.
 */
export function storeFeed({ records, cursor, epoch, day_id = "", awaits }: FeedPage) {
  return write(["record", "outbox", "refused", "setting"], async (tx) => {
    const device = await tx.setting("device");
    if (!device || device.revoked) return;
    const anew = new Set(records.map(({ record_id }) => record_id));
    const has = (await tx.setting("office"))?.device_seq ?? 0;
    const forgotten = await tx.setting("forgotten");
    await sendWhatHangsOn(tx, records, { lacks: forgotten?.lacks });
    if (forgotten?.lacks?.some((id) => anew.has(id)))
      await tx.remember("forgotten", { ...forgotten, lacks: forgotten.lacks.filter((id) => !anew.has(id)) });
    for (const op of forgotten?.done_at === null ? await tx.oldest(undefined, has) : [])
      if (op.again === "kept" && anew.has(op.record_id)) await tx.put("outbox", { ...op, again: undefined });
    for (const record of records) await tx.put("record", record);
    // Whoever chose no day stays with the count that is open here.
    const works = { ...device, epoch, cursor, day_id: device.day_id || daysCounting()[0] || day_id };
    if (awaits && (awaits.length || device.awaits)) works.awaits = awaits;
    const isOtherWork = scopeOf(works) !== scopeOf(device);
    const isSooner = (works.awaits ?? []).every((id) => device.awaits?.includes(id));
    // What was read was of that day already; what is of a day awaited since stands before this place in the feed.
    if (isOtherWork && (isSooner || !device.cursor)) works.scope = scopeOf(works);
    if (device.epoch !== epoch || device.cursor !== cursor || isOtherWork) await tx.remember("device", works);
  });
}
