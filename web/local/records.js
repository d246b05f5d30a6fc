/**
 * Records as this device knows them: the office's last copy with the device's own waiting operations on top.
 *
 * @import { RecordCopy } from "../job/types.js"
 */
import { applyOperation } from "../job/record.js";
import { transact } from "./database.js";
import { tell } from "./news.js";

/** @param {RecordCopy|null} record @param {any[]} operations */
function withWaiting(record, operations) {
  let current = record;
  for (const operation of operations) {
    const result = applyOperation(current, operation);
    if ("record" in result) current = result.record;
  }
  return current;
}

/** The same inside a transaction over `record` and `outbox`. @param {any} tx @param {string} record_id @returns {Promise<RecordCopy|null>} */
export async function currentIn(tx, record_id) {
  const stored = (await tx.objectStore("record").get(record_id)) ?? null;
  const waiting = await tx.objectStore("outbox").index("record_id").getAll(record_id);
  return withWaiting(stored, waiting);
}

/** @param {string} record_id @returns {Promise<RecordCopy|null>} */
export function currentRecord(record_id) {
  return transact(["record", "outbox"], "readonly", (tx) => currentIn(tx, record_id));
}

/**
 * Every record of a kind, oldest first. @param {RecordCopy["kind"]} kind @param {string} [day_id]
 * @returns {Promise<RecordCopy[]>}
 */
export function listRecords(kind, day_id) {
  return transact(["record", "outbox"], "readonly", async (tx) => {
    /** @type {RecordCopy[]} */
    const stored = await tx.objectStore("record").index("kind").getAll(kind);
    const waiting = await tx.objectStore("outbox").getAll();
    const known = new Map(stored.map((record) => [record.record_id, /** @type {RecordCopy|null} */ (record)]));
    const opening = `open_${kind}`;
    for (const op of waiting) if (op.kind === opening && !known.has(op.record_id)) known.set(op.record_id, null);
    const current = [...known].map(([record_id, record]) => withWaiting(record, waiting.filter((op) => op.record_id === record_id)));
    return current
      .filter((record) => record !== null)
      .filter((record) => !day_id || record.day_id === day_id)
      .sort((one, other) => one.opened_at.localeCompare(other.opened_at));
  });
}

/**
 * Store a page of the feed: records and cursor in one transaction, so that neither is ahead of the other.
 * @param {{records: RecordCopy[], cursor: number, epoch: string}} page
 */
export async function storeFeed(page) {
  await transact(["record", "setting"], "readwrite", async (tx) => {
    const settings = tx.objectStore("setting");
    const device = await settings.get("device");
    if (device.epoch !== page.epoch) await tx.objectStore("record").clear();
    for (const record of page.records) await tx.objectStore("record").put(record);
    await settings.put({ ...device, epoch: page.epoch, cursor: page.cursor }, "device");
  });
  if (page.records.length) tell();
}
