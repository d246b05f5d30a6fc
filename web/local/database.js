/**
 * This device's own database: records, outbox, photos. Every write is strict: it is done when the disk has it.
 *
 * A phone may stop its storage under us: a request then fails or never ends. So each transaction has a time
 * limit, is tried once more on a fresh connection, and the connection is closed while the app is hidden.
 *
 * @import { IDBPDatabase, IDBPTransaction } from "idb"
 */
import { openDB } from "idb";

const NAME = "intake";
const VERSION = 1;
const LIMIT_MS = 4000;

/** The phone's storage does not answer; the message says what to do. */
export class StorageStopped extends Error {
  constructor() {
    super("This phone's storage stopped. Close the app fully and open it again; what was saved is still there.");
  }
}

/** The phone is full; the message says what to do. */
export class StorageFull extends Error {
  constructor() {
    super("This phone is full, so the last thing was not kept. All that was saved before is still here. Make room on the phone, or send what waits, and do the last step again.");
  }
}

/** @type {Promise<IDBPDatabase>|null} */
let opening = null;

export function openDatabase() {
  opening ??= openDB(NAME, VERSION, {
    upgrade(db) {
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
      /** @type {IDBDatabase} */ (event.target).close();
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

/**
 * Do work in one transaction; resolves when it is on the disk. Inside, await only its own requests.
 * @template T
 * @param {string[]} stores
 * @param {"readonly"|"readwrite"} mode
 * @param {(tx: IDBPTransaction<any, string[], "readwrite">) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function transact(stores, mode, work) {
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

/**
 * @template T
 * @param {string[]} stores @param {"readonly"|"readwrite"} mode
 * @param {(tx: IDBPTransaction<any, string[], "readwrite">) => Promise<T>} work
 */
async function attempt(stores, mode, work) {
  return withinLimit(
    (async () => {
      // The type is the wider one; a "readonly" transaction refuses writes when it runs.
      const tx = /** @type {IDBPTransaction<any, string[], "readwrite">} */ (
        (await openDatabase()).transaction(stores, mode, { durability: "strict" })
      );
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

/** @template T @param {Promise<T>} promise @returns {Promise<T>} */
function withinLimit(promise) {
  /** @type {ReturnType<typeof setTimeout>} */
  let timer;
  const limit = new Promise((_resolve, reject) => {
    timer = setTimeout(() => reject(new DOMException("The storage did not answer.", "TimeoutError")), LIMIT_MS);
  });
  return /** @type {Promise<T>} */ (Promise.race([promise, limit]).finally(() => clearTimeout(timer)));
}

/** @param {unknown} error */
function isFull(error) {
  return error instanceof DOMException && error.name === "QuotaExceededError";
}

/** @param {unknown} error */
function isStopped(error) {
  return error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError", "TimeoutError"].includes(error.name);
}

/** @param {string} name @returns {Promise<any>} */
export function setting(name) {
  return transact(["setting"], "readonly", (tx) => tx.objectStore("setting").get(name));
}

/** @param {string} name @param {any} value */
export async function remember(name, value) {
  await transact(["setting"], "readwrite", (tx) => tx.objectStore("setting").put(value, name));
}
