/**
 * This device's own database: records, outbox, photos. Every write is strict: it is done when the disk has it.
 *
 * A phone may stop its storage under us: a request then fails or never ends. So each transaction has a time
 * limit, is tried once more on a fresh connection, and the connection is closed while the app is hidden.
 */
import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from "idb";
import { openDB } from "idb";
import type { Operation, Plan, PlanBook, Problem, RecordCopy } from "../job/types.ts";
import type { ThisDevice } from "./device.ts";

const NAME = "intake";
const VERSION = 2;
const LIMIT_MS = 4000;

/** A picture that is or was on this device; its bytes stand in a store of their own. */
export type StoredPhoto = {
  sha256: string;
  size: number;
  media_type: string;
  is_thumb: boolean;
  at_office: boolean;
  problem?: Partial<Problem>;
};
/** An operation and what this device knows of it. */
export type Waiting = Operation & { record_id: string; attempted: boolean };
export type Refused = { operation_id: string; operation: Operation; problem: Problem; refused_at: string };

/** What was entered and is no operation yet: of which form, and on which day. It leaves the device with that day. */
export type HeldForm = { name: string; day_id: string; entered: unknown };

/** What is remembered by name. */
export interface Settings {
  device: ThisDevice;
  device_seq: number;
  plans: { book: PlanBook; tag: string | null };
  "older plans": Record<string, Plan>;
  [labels: `labels ${string}`]: ArrayBuffer;
}

export interface Stores extends DBSchema {
  record: { key: string; value: RecordCopy; indexes: { kind: string } };
  outbox: { key: number; value: Waiting; indexes: { operation_id: string; record_id: string } };
  refused: { key: string; value: Refused };
  photo_bytes: { key: string; value: ArrayBuffer };
  photo: { key: string; value: StoredPhoto };
  setting: { key: string; value: Settings[keyof Settings] };
  held: { key: string; value: HeldForm };
}
export type StoreName = StoreNames<Stores>;
/** A transaction over stores that its maker names; one that was begun to read refuses writes when it runs. */
export type Transaction = IDBPTransaction<Stores, StoreName[], "readwrite">;

/** The phone's storage does not answer; the message says what to do. */
export class StorageStopped extends Error {
  constructor() {
    super(
      "This phone's storage stopped. Close the app fully and open it again; what was saved is still there.",
    );
  }
}

/** The phone is full; the message says what to do. */
export class StorageFull extends Error {
  constructor() {
    super(
      "This phone is full, so the last thing was not kept. All that was saved before is still here. Make room on the phone, or send what waits, and do the last step again.",
    );
  }
}

let opening: Promise<IDBPDatabase<Stores>> | null = null;

export function openDatabase() {
  opening ??= openDB<Stores>(NAME, VERSION, {
    upgrade(db, before) {
      if (before < 2) db.createObjectStore("held", { keyPath: "name" });
      if (before > 0) return;
      db.createObjectStore("record", { keyPath: "record_id" }).createIndex("kind", "kind");
      const outbox = db.createObjectStore("outbox", { keyPath: "device_seq" });
      outbox.createIndex("operation_id", "operation_id");
      outbox.createIndex("record_id", "record_id");
      db.createObjectStore("refused", { keyPath: "operation_id" });
      db.createObjectStore("photo_bytes");
      db.createObjectStore("photo", { keyPath: "sha256" });
      db.createObjectStore("setting");
    },
    blocking(_current, _blocked, event) {
      (event.target as IDBDatabase).close();
      opening = null;
    },
    terminated() {
      opening = null;
    },
  });
  return opening;
}

export async function closeDatabase() {
  const open = opening;
  opening = null;
  if (open) (await open).close();
}

/** Do work in one transaction; resolves when it is on the disk. Inside, await only its own requests. */
export async function transact<T>(
  stores: StoreName[],
  mode: "readonly" | "readwrite",
  work: (tx: Transaction) => Promise<T>,
): Promise<T> {
  try {
    return await attempt(stores, mode, work);
  } catch (error) {
    if (isFull(error)) throw new StorageFull();
    if (!isStopped(error)) throw error;
    opening = null;
    try {
      return await attempt(stores, mode, work);
    } catch (again) {
      if (isFull(again)) throw new StorageFull();
      throw isStopped(again) ? new StorageStopped() : again;
    }
  }
}

async function attempt<T>(
  stores: StoreName[],
  mode: "readonly" | "readwrite",
  work: (tx: Transaction) => Promise<T>,
) {
  return withinLimit(
    (async () => {
      // The type is the wider one; a "readonly" transaction refuses writes when it runs.
      const tx = (await openDatabase()).transaction(stores, mode, {
        durability: "strict",
      }) as Transaction;
      try {
        const result = await work(tx);
        await tx.done;
        return result;
      } catch (error) {
        tx.done.catch(() => {}); // the reason is thrown below
        try {
          tx.abort();
        } catch {
          // it has ended by itself
        }
        throw tx.error ?? error;
      }
    })(),
  );
}

function withinLimit<T>(promise: Promise<T>): Promise<T> {
  let timer: ReturnType<typeof setTimeout>;
  const limit = new Promise((_resolve, reject) => {
    timer = setTimeout(
      () => reject(new DOMException("The storage did not answer.", "TimeoutError")),
      LIMIT_MS,
    );
  });
  return Promise.race([promise, limit]).finally(() => clearTimeout(timer)) as Promise<T>;
}

function isFull(error: unknown) {
  return error instanceof DOMException && error.name === "QuotaExceededError";
}

function isStopped(error: unknown) {
  return (
    error instanceof DOMException &&
    ["InvalidStateError", "UnknownError", "AbortError", "TimeoutError"].includes(error.name)
  );
}

/** Something that is remembered by name. That a name has its own shape is for whoever writes it to keep. */
export async function settingIn<Name extends keyof Settings>(tx: Transaction, name: Name) {
  return (await tx.objectStore("setting").get(name)) as Settings[Name] | undefined;
}
