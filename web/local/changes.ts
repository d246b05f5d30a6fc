/**
 * The one way to write on this device: a transaction, whose changes are taken over by this tab's memory once they are
 * on the disk, and told to the other tabs, which read them from there.
 */
import { recordIdOf } from "../job/operation.ts";
import { withOperations } from "../job/record.ts";
import type { RecordCopy } from "../job/types.ts";
import {
  type Answered,
  noteStored,
  type Refused,
  type Settings,
  type StoredPhoto,
  type StoreName,
  type Stores,
  settingIn,
  type Transaction,
  transact,
  type Waiting,
} from "./database.ts";
import { apply, type Change, loadAgain } from "./load.ts";

/** A transaction in which something is written. Await its own requests only. */
export class Writing {
  readonly #tx: Transaction;
  readonly changes: Change[] = [];

  constructor(tx: Transaction) {
    this.#tx = tx;
  }

  get<Name extends StoreName>(
    store: Name,
    key: Stores[Name]["key"],
  ): Promise<Stores[Name]["value"] | undefined> {
    return this.#tx.objectStore(store).get(key);
  }

  /** Whether something stands there; large things are not read for that. */
  async has<Name extends StoreName>(store: Name, key: Stores[Name]["key"]): Promise<boolean> {
    return (await this.#tx.objectStore(store).getKey(key)) !== undefined;
  }

  setting<Name extends keyof Settings>(name: Name) {
    return settingIn(this.#tx, name);
  }

  async put<Name extends StoreName>(store: Name, value: Stores[Name]["value"], key?: Stores[Name]["key"]) {
    const at = await this.#tx.objectStore(store).put(value, key);
    this.changes.push({ store, key: at, value });
  }

  async remember<Name extends keyof Settings>(name: Name, value: Settings[Name]) {
    await this.put("setting", value, name);
  }

  async delete<Name extends StoreName>(store: Name, key: Stores[Name]["key"]) {
    await this.#tx.objectStore(store).delete(key);
    this.changes.push({ store, key, value: undefined });
  }

  /** The oldest operations of the outbox that were made after one. */
  oldest(limit?: number, after = 0): Promise<Waiting[]> {
    return this.#tx.objectStore("outbox").getAll(IDBKeyRange.lowerBound(after, true), limit);
  }

  /** The oldest of those that were answered and are kept here, made after one. */
  answered(limit?: number, after = 0): Promise<Answered[]> {
    return this.#tx.objectStore("answered").getAll(IDBKeyRange.lowerBound(after, true), limit);
  }

  records(): Promise<RecordCopy[]> {
    return this.#tx.objectStore("record").getAll();
  }

  refused(): Promise<Refused[]> {
    return this.#tx.objectStore("refused").getAll();
  }

  /** Operations that were refused, each with the record it is of. */
  async refusedOperations(): Promise<{ record_id: string }[]> {
    return (await this.refused()).map(({ operation }) => ({ record_id: recordIdOf(operation) }));
  }

  /** The days as the office tells them. */
  days(): Promise<RecordCopy[]> {
    return this.#tx.objectStore("record").index("kind").getAll("day");
  }

  photos(): Promise<StoredPhoto[]> {
    return this.#tx.objectStore("photo").getAll();
  }

  /** The operations that wait on a record. */
  waitingOn(record_id: string): Promise<Waiting[]> {
    return this.#tx.objectStore("outbox").index("record_id").getAll(record_id);
  }

  waitingAs(operation_id: string): Promise<Waiting | undefined> {
    return this.#tx.objectStore("outbox").index("operation_id").get(operation_id);
  }

  /** A record with what waits on it on top, over the stores `record` and `outbox`. */
  async current(record_id: string): Promise<RecordCopy | null> {
    const waiting = (await this.waitingOn(record_id)).filter(({ again }) => !again);
    return withOperations((await this.get("record", record_id)) ?? null, waiting);
  }
}

/** Write in one transaction; resolves when it is on the disk and this tab knows of it. */
export async function write<Result>(
  stores: StoreName[],
  work: (tx: Writing) => Promise<Result>,
): Promise<Result> {
  let changes: Change[] = [];
  const result = await transact(stores, "readwrite", (tx) => {
    const writing = new Writing(tx); // anew at each try
    changes = writing.changes;
    return work(writing);
  });
  if (changes.some(({ value }) => value !== undefined)) noteStored();
  if (changes.length) {
    apply(changes);
    channel?.postMessage(
      changes.filter(({ store }) => store !== "photo_bytes").map(({ store, key }) => [store, key]),
    );
  }
  return result;
}

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("intake");
// A channel must not keep a test's process alive.
if (channel && "unref" in channel) (channel as { unref: () => void }).unref();
if (channel) channel.onmessage = ({ data }) => takeOver(data);

/** Another tab has written under these keys: read what stands there. */
async function takeOver(keys: [StoreName, string | number][]) {
  const stores = [...new Set(keys.map(([store]) => store))];
  if (!stores.length) return;
  const changes = await transact(stores, "readonly", (tx) =>
    Promise.all(
      keys.map(async ([store, key]) => ({
        store,
        key,
        value: await tx.objectStore(store).get(key as string),
      })),
    ),
  );
  apply(changes);
}

/** A page that was frozen has not heard what others wrote meanwhile. */
export function readAgainWhenShown() {
  window.addEventListener("pageshow", (event) => {
    if (event.persisted) loadAgain();
  });
  document.addEventListener("resume", () => loadAgain());
}
