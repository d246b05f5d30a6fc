/** Records as this device knows them: the office's last copy with the device's own waiting operations on top. */

import { applyOperation } from "../job/record.ts";
import type { Operation, RecordCopy, RecordKind, RecordOf } from "../job/types.ts";
import { settingIn, type Transaction, transact } from "./database.ts";
import { tell } from "./news.ts";

function withWaiting(record: RecordCopy | null, operations: Operation[]) {
  let current = record;
  for (const operation of operations) {
    const result = applyOperation(current, operation);
    if ("record" in result) current = result.record;
  }
  return current;
}

/** The same inside a transaction over `record` and `outbox`. */
export async function currentIn(tx: Transaction, record_id: string): Promise<RecordCopy | null> {
  const stored = (await tx.objectStore("record").get(record_id)) ?? null;
  const waiting = await tx.objectStore("outbox").index("record_id").getAll(record_id);
  return withWaiting(stored, waiting);
}

export function currentRecord(record_id: string): Promise<RecordCopy | null> {
  return transact(["record", "outbox"], "readonly", (tx) => currentIn(tx, record_id));
}

/** Every record of a kind, oldest first. */
export function listRecords<Kind extends RecordKind>(kind: Kind, day_id?: string): Promise<RecordOf<Kind>[]> {
  return transact(["record", "outbox"], "readonly", async (tx) => {
    const stored = await tx.objectStore("record").index("kind").getAll(kind);
    const waiting = await tx.objectStore("outbox").getAll();
    const known = new Map(stored.map((record) => [record.record_id, record as RecordCopy | null]));
    const opening = `open_${kind}`;
    for (const op of waiting)
      if (op.kind === opening && !known.has(op.record_id)) known.set(op.record_id, null);
    const current = [...known].map(([record_id, record]) =>
      withWaiting(
        record,
        waiting.filter((op) => op.record_id === record_id),
      ),
    );
    return current
      .filter((record): record is RecordOf<Kind> => record?.kind === kind)
      .filter((record) => !day_id || record.day_id === day_id)
      .sort((one, other) => one.opened_at.localeCompare(other.opened_at));
  });
}

/** Store a page of the feed: records and cursor in one transaction, so that neither is ahead of the other. */
export async function storeFeed(page: { records: RecordCopy[]; cursor: number; epoch: string }) {
  await transact(["record", "setting"], "readwrite", async (tx) => {
    const device = await settingIn(tx, "device");
    if (!device) return;
    if (device.epoch !== page.epoch) await tx.objectStore("record").clear();
    for (const record of page.records) await tx.objectStore("record").put(record);
    await tx.objectStore("setting").put({ ...device, epoch: page.epoch, cursor: page.cursor }, "device");
  });
  if (page.records.length) tell();
}
