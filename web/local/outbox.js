/**
 * The outbox: operations that are still on this device only. One leaves it when the office has answered it, not
 * when it was sent, and never by age. A refused one moves to the list that a person works off.
 *
 * @import { Operation, Answer } from "../job/types.js"
 */
import { newId, newSalt } from "../job/ids.js";
import { applyOperation, fieldOf, recordIdOf } from "../job/record.js";
import { transact } from "./database.js";
import { tell } from "./news.js";
import { currentIn } from "./records.js";

/** @typedef {Operation & {record_id: string, attempted: boolean}} Waiting an operation and what this device knows of it */
/** @typedef {{operation_id: string, operation: Operation, problem: import("../job/types.js").Problem, refused_at: string}} Refused */

/** Kinds with words that stay out of the log, and so need salt. */
const PERSONAL = new Set(["set_consignor", "sign_receipt"]);
/** Kinds of which a later value simply takes the place of an earlier one that was never sent. */
const COALESCED = new Set([
  "set_visit", "set_consignor", "set_item", "record_finding", "record_denial", "record_statement", "record_origin", "record_mark",
  "record_date", "record_measure", "record_test", "record_grade", "give_roll",
]);

/**
 * Keep an operation on this device; resolves when the disk has it.
 * @param {string} kind @param {Record<string, any>} body
 * @param {{amend?: boolean, photo?: {sha256: string, bytes: ArrayBuffer, thumb_sha256: string, thumb: ArrayBuffer, media_type: string}}} [more]
 *   `amend`: the body has only what changes of the field's value, and the rest is taken as it stands in the store, so
 *   that two changes made before a screen was drawn again do not undo each other
 * @returns {Promise<Operation>}
 */
export async function keep(kind, body, more = {}) {
  const stores = ["record", "outbox", "setting", ...(more.photo ? ["photo", "photo_bytes"] : [])];
  const operation = await transact(stores, "readwrite", async (tx) => {
    const settings = tx.objectStore("setting");
    const device = await settings.get("device");
    if (!device) throw new Error("This device is not paired yet.");
    if (more.photo) await storePhoto(tx, more.photo);
    let drafted = /** @type {Operation} */ ({
      operation_id: newId(),
      kind,
      made_at: new Date(Date.now() + (device.clock_offset_ms ?? 0)).toISOString(),
      made_by: device.person_id ?? "",
      device_id: device.device_id,
      device_seq: 0,
      ...body,
    });
    const record_id = recordIdOf(drafted);
    if (more.amend) {
      const field = /** @type {[string, any]} */ (fieldOf(drafted))[0];
      const standing = (await currentIn(tx, record_id))?.fields[field]?.value;
      drafted = { ...drafted, ...standing, ...body };
    }
    const outbox = tx.objectStore("outbox");
    const earlier = COALESCED.has(kind) ? await replaceable(outbox, record_id, drafted) : undefined;
    if (earlier) {
      const changed = /** @type {Waiting} */ ({ ...earlier, ...body, made_at: drafted.made_at, made_by: drafted.made_by, seen: earlier.seen ?? null });
      if (kind === "set_consignor") changed["salt"] = earlier["salt"];
      await outbox.put(changed);
      return bare(changed);
    }
    if (PERSONAL.has(kind)) drafted["salt"] ??= newSalt();
    const edit = fieldOf(drafted);
    if (edit && !("seen" in body)) {
      const record = await currentIn(tx, record_id);
      drafted.seen = record?.fields[edit[0]]?.operation_id ?? null;
    }
    drafted.device_seq = 1 + ((await settings.get("device_seq")) ?? 0);
    await settings.put(drafted.device_seq, "device_seq");
    await outbox.put({ ...drafted, record_id, attempted: false });
    return drafted;
  });
  tell();
  return operation;
}

/**
 * An earlier value of the same field that was never sent and that nothing was built upon.
 * @param {any} outbox @param {string} record_id @param {Operation} drafted @returns {Promise<Waiting|undefined>}
 */
async function replaceable(outbox, record_id, drafted) {
  /** @type {Waiting[]} */
  const waiting = await outbox.index("record_id").getAll(record_id);
  const name = fieldOf(drafted)?.[0];
  return waiting.findLast((op) => !op.attempted && op.kind === drafted.kind && fieldOf(op)?.[0] === name);
}

/** @param {any} tx @param {{sha256: string, bytes: ArrayBuffer, thumb_sha256: string, thumb: ArrayBuffer, media_type: string}} photo */
async function storePhoto(tx, photo) {
  await tx.objectStore("photo_bytes").put(photo.bytes, photo.sha256);
  await tx.objectStore("photo_bytes").put(photo.thumb, photo.thumb_sha256);
  await tx.objectStore("photo").put({ sha256: photo.thumb_sha256, size: photo.thumb.byteLength, media_type: "image/jpeg", is_thumb: true, at_office: false });
  await tx.objectStore("photo").put({ sha256: photo.sha256, size: photo.bytes.byteLength, media_type: photo.media_type, is_thumb: false, at_office: false });
}

/** An operation without what only this device knows of it. @param {Waiting} waiting @returns {Operation} */
function bare({ record_id, attempted, ...operation }) {
  if (operation.kind === "settle_disagreement") operation["record_id"] = record_id;
  return operation;
}

/** @returns {Promise<Waiting[]>} */
export function waiting() {
  return transact(["outbox"], "readonly", (tx) => tx.objectStore("outbox").getAll());
}

/**
 * The oldest operations, marked as tried before they leave: from now on none of them is changed in place.
 * @param {number} limit @returns {Promise<Operation[]>}
 */
export function takeBatch(limit) {
  return transact(["outbox"], "readwrite", async (tx) => {
    const outbox = tx.objectStore("outbox");
    /** @type {Waiting[]} */
    const batch = await outbox.getAll(null, limit);
    for (const op of batch) if (!op.attempted) await outbox.put({ ...op, attempted: true });
    return batch.map(bare);
  });
}

/**
 * Let go of answered operations. A kept one is folded into the stored record at once, so that no screen falls
 * back before the feed has brought it; a refused one moves to the list a person must look at.
 * @param {Answer[]} answers
 */
export async function settle(answers) {
  await transact(["outbox", "refused", "record"], "readwrite", async (tx) => {
    const outbox = tx.objectStore("outbox");
    for (const answer of answers) {
      /** @type {Waiting|undefined} */
      const op = await outbox.index("operation_id").get(answer.operation_id);
      if (!op) continue; // settled before, by an earlier try
      if (answer.outcome === "refused") {
        await tx.objectStore("refused").put({ operation_id: op.operation_id, operation: bare(op), problem: answer.problem, refused_at: new Date().toISOString() });
      } else {
        const result = applyOperation((await tx.objectStore("record").get(op.record_id)) ?? null, op);
        if ("record" in result) await tx.objectStore("record").put(result.record);
      }
      await outbox.delete(op.device_seq);
    }
  });
  tell();
}

/** @returns {Promise<Refused[]>} */
export function refused() {
  return transact(["refused"], "readonly", (tx) => tx.objectStore("refused").getAll());
}

/**
 * Send a refused operation again, corrected or as it was: a new operation; the refused one is let go of in the
 * same transaction.
 * @param {Refused} one @param {Record<string, any>} changes
 */
export async function sendAgain(one, changes) {
  await transact(["refused", "outbox", "setting"], "readwrite", async (tx) => {
    const settings = tx.objectStore("setting");
    const device_seq = 1 + ((await settings.get("device_seq")) ?? 0);
    await settings.put(device_seq, "device_seq");
    const operation = { ...one.operation, operation_id: newId(), device_seq, ...changes };
    await tx.objectStore("outbox").put({ ...operation, record_id: recordIdOf(operation), attempted: false });
    await tx.objectStore("refused").delete(one.operation_id);
  });
  tell();
}
