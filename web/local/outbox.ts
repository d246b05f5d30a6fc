/**
 * The outbox: operations that are still on this device only. One leaves it when the office has answered it, not
 * when it was sent, and never by age. A refused one moves to the list that a person works off.
 */

import { newId, newSalt } from "../job/ids.ts";
import { KINDS, type KindSays } from "../job/kinds.ts";
import type { Kind } from "../job/operations.ts";
import { applyOperation, fieldOf, recordIdOf } from "../job/record.ts";
import type { Answer, BodyOf, Operation, Problem } from "../job/types.ts";
import { type Refused, settingIn, type Transaction, transact, type Waiting } from "./database.ts";
import { tell } from "./news.ts";
import { currentIn } from "./records.ts";

/** What is shown of a refusal that came without its problem. */
const UNSAID: Problem = { code: "refused", title: "The office refused this", detail: "", hint: "" };
/** The bytes of a picture and of its small copy. */
export type PhotoBytes = {
  sha256: string;
  bytes: ArrayBuffer;
  thumb_sha256: string;
  thumb: ArrayBuffer;
  media_type: string;
};
/** An operation while it is made: of which kind it is, is known where it was said. */
type Draft = Operation & { seen?: string | null; salt?: string };

/** Keep an operation on this device, with the picture it speaks of; resolves when the disk has both. */
export function keep<K extends Kind>(kind: K, body: BodyOf<K>, photo?: PhotoBytes): Promise<Operation> {
  return keepInStore(kind, body, { photo });
}

/**
 * Keep what changes of a field's value. The rest is taken as it stands in the store, so that two changes made before
 * a screen was drawn again do not undo each other.
 */
export function amend<K extends Kind>(kind: K, body: Partial<BodyOf<K>>): Promise<Operation> {
  return keepInStore(kind, body, { amending: true });
}

let seesNothing = false;

/**
 * What is kept while this is called was typed before the value that stands now was there to be seen: if they differ, it
 * ends as a disagreement instead of replacing it.
 */
export function keptUnseen<T>(work: () => T): T {
  seesNothing = true;
  try {
    return work();
  } finally {
    seesNothing = false;
  }
}

async function keepInStore(
  kind: Kind,
  body: object,
  { photo, amending = false }: { photo?: PhotoBytes; amending?: boolean },
): Promise<Operation> {
  const unseen = seesNothing;
  const photoStores = photo ? (["photo", "photo_bytes"] as const) : [];
  const operation = await transact(
    ["record", "outbox", "setting", ...photoStores],
    "readwrite",
    async (tx) => {
      const device = await settingIn(tx, "device");
      if (!device) throw new Error("This device is not paired yet.");
      if (photo) await storePhoto(tx, photo);
      const fresh = {
        operation_id: newId(),
        kind,
        made_at: new Date(Date.now() + (device.clock_offset_ms ?? 0)).toISOString(),
        made_by: device.person_id ?? "",
        device_id: device.device_id,
        device_seq: 0,
        ...body,
      } as Draft;
      const draft = amending ? await completed(tx, fresh, body) : fresh;
      const record_id = recordIdOf(draft);
      const says: KindSays = KINDS[kind];
      const earlier = says.replaceable ? await replaceable(tx, record_id, draft) : undefined;
      if (earlier) return replace(tx, earlier, draft, body);
      if (says.salted) draft.salt ??= newSalt();
      const edit = fieldOf(draft);
      if (edit && !("seen" in body)) {
        const record = unseen ? null : await currentIn(tx, record_id);
        draft.seen = record?.fields[edit[0]]?.operation_id ?? null;
      }
      draft.device_seq = await nextSeq(tx);
      await tx.objectStore("outbox").put({ ...draft, record_id, attempted: false });
      return draft;
    },
  );
  tell();
  return operation;
}

/** The draft with all that stands in its field and is not changed by it. */
async function completed(tx: Transaction, draft: Draft, body: object): Promise<Draft> {
  const field = fieldOf(draft)?.[0] ?? "";
  const standing = (await currentIn(tx, recordIdOf(draft)))?.fields[field]?.value;
  return { ...draft, ...(standing as object), ...body };
}

/** The next place in the device's own order. */
async function nextSeq(tx: Transaction): Promise<number> {
  const device_seq = 1 + ((await settingIn(tx, "device_seq")) ?? 0);
  await tx.objectStore("setting").put(device_seq, "device_seq");
  return device_seq;
}

/** An earlier value of the same field that was never sent and that nothing was built upon. */
async function replaceable(tx: Transaction, record_id: string, draft: Draft): Promise<Waiting | undefined> {
  const waiting = await tx.objectStore("outbox").index("record_id").getAll(record_id);
  const name = fieldOf(draft)?.[0];
  return waiting.findLast((op) => !op.attempted && op.kind === draft.kind && fieldOf(op)?.[0] === name);
}

/** Put a later value into the place of an earlier one, which keeps its id, its place and its salt. */
async function replace(tx: Transaction, earlier: Waiting & Draft, draft: Draft, body: object) {
  const { made_at, made_by } = draft;
  const changed = { ...earlier, ...body, made_at, made_by, seen: earlier.seen ?? null } as Waiting;
  await tx.objectStore("outbox").put(changed);
  return bare(changed);
}

async function storePhoto(tx: Transaction, photo: PhotoBytes) {
  await tx.objectStore("photo_bytes").put(photo.bytes, photo.sha256);
  await tx.objectStore("photo_bytes").put(photo.thumb, photo.thumb_sha256);
  await tx.objectStore("photo").put({
    sha256: photo.thumb_sha256,
    size: photo.thumb.byteLength,
    media_type: "image/jpeg",
    is_thumb: true,
    at_office: false,
  });
  await tx.objectStore("photo").put({
    sha256: photo.sha256,
    size: photo.bytes.byteLength,
    media_type: photo.media_type,
    is_thumb: false,
    at_office: false,
  });
}

/** An operation without what only this device knows of it. */
function bare({ record_id, attempted, ...operation }: Waiting): Operation {
  return (operation.kind === "settle_disagreement" ? { ...operation, record_id } : operation) as Operation;
}

export function waiting(): Promise<Waiting[]> {
  return transact(["outbox"], "readonly", (tx) => tx.objectStore("outbox").getAll());
}

/** The oldest operations, marked as tried before they leave: from now on none of them is changed in place. */
export function takeBatch(limit: number): Promise<Operation[]> {
  return transact(["outbox"], "readwrite", async (tx) => {
    const outbox = tx.objectStore("outbox");
    const batch: Waiting[] = await outbox.getAll(null, limit);
    for (const op of batch) if (!op.attempted) await outbox.put({ ...op, attempted: true });
    return batch.map(bare);
  });
}

/**
 * Let go of answered operations. A kept one is folded into the stored record at once, so that no screen falls
 * back before the feed has brought it; a refused one moves to the list a person must look at.
 */
export async function settle(answers: Answer[]) {
  await transact(["outbox", "refused", "record"], "readwrite", async (tx) => {
    const outbox = tx.objectStore("outbox");
    for (const answer of answers) {
      const op: Waiting | undefined = await outbox.index("operation_id").get(answer.operation_id);
      if (!op) continue; // settled before, by an earlier try
      if (answer.outcome === "refused") {
        await tx.objectStore("refused").put({
          operation_id: op.operation_id,
          operation: bare(op),
          problem: answer.problem ?? UNSAID,
          refused_at: new Date().toISOString(),
        });
      } else {
        const result = applyOperation((await tx.objectStore("record").get(op.record_id)) ?? null, op);
        if ("record" in result) await tx.objectStore("record").put(result.record);
      }
      await outbox.delete(op.device_seq);
    }
  });
  tell();
}

export function refused(): Promise<Refused[]> {
  return transact(["refused"], "readonly", (tx) => tx.objectStore("refused").getAll());
}

/** Refusals of whoever made an operation: it is sent again in the name of who is at this device now. */
const ABOUT_THE_PERSON = new Set(["person_not_on_day", "hat_does_not_fit"]);

/**
 * Send a refused operation again, corrected or as it was: a new operation; the refused one is let go of in the
 * same transaction.
 */
export async function sendAgain(again: Refused, changes: object) {
  await transact(["refused", "outbox", "setting"], "readwrite", async (tx) => {
    const device = await settingIn(tx, "device");
    const person = ABOUT_THE_PERSON.has(again.problem.code) ? { made_by: device?.person_id ?? "" } : {};
    const operation = {
      ...again.operation,
      ...person,
      operation_id: newId(),
      device_seq: await nextSeq(tx),
      ...changes,
    } as Operation;
    await tx.objectStore("outbox").put({ ...operation, record_id: recordIdOf(operation), attempted: false });
    await tx.objectStore("refused").delete(again.operation_id);
  });
  tell();
}
