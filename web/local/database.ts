/**
 * This device's own database: records, outbox, photos. Every write is strict: it is done when the disk has it.
 *
 * A phone may stop its storage under us: a request then fails or never ends. So each transaction has a time
 * limit, is tried once more on a fresh connection, and the connection is closed while the app is hidden.
 */
import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from "idb";
import { openDB } from "idb";
import type {
  OfficeStanding,
  OmitEach,
  Operation,
  Plan,
  PlanBook,
  Problem,
  RecordCopy,
} from "../job/types.ts";
import type { ThisDevice } from "./device.ts";
import type { FiltersErased, SavedFilter } from "./filters_erased.ts";
import type { NumbersGone } from "./numbers_gone.ts";
import type { Opened } from "./opened.ts";
import type { Unsent } from "./unsent.ts";

const NAME = "intake";
const VERSION = 3;
const LIMIT_MS = 4000;
/** A slow phone gets more time before it is told that its storage stopped. */
const LAST_LIMIT_MS = 15_000;

/** A picture that is or was on this device; its bytes stand in a store of their own. */
export type StoredPhoto = {
  sha256: string;
  size: number;
  media_type: string;
  is_thumb: boolean;
  at_office: boolean;
  /** When the office said that it has it. */
  confirmed_at?: string;
  /** Its bytes are not here any more: it is safe elsewhere. */
  freed?: boolean;
  /** The office had it once and may have lost it: it is to be asked. */
  unsure?: boolean;
  problem?: Partial<Problem>;
};
/** An operation and what this device knows of it. */
export type Waiting = Operation & {
  record_id: string;
  attempted: boolean;
  /** What the office waits for before it can take it. */
  waits?: Problem;
  /** It was answered so before, and the office has lost it; this device's copy of the record has it already. */
  again?: Outcome;
  /** An office took it, and lost it since. */
  taken_once?: boolean;
  /** Its day, once its record has left this device. */
  of_day?: string;
  /** What was added to this device's clock for its time; an older version of this app did not write it down. */
  clock_offset_ms?: number;
  /** The office has it without its words, since they had been erased. */
  without_words?: true;
};
type Outcome = "kept" | "refused";
/** An operation that was answered and stays here until it is safe. */
export type Answered = OmitEach<Waiting, "again" | "waits"> & {
  outcome: Outcome;
  office_seq: number;
  /** The digest of its words, which stands in their place once they were erased. */
  private_sha256?: string;
};
/** Records left this device: when, why, how many, and how many stay since something of them is still to be sent. */
export type Left = { at: string; why: "over" | "another day" | "signed off"; records: number; owed: number };
/** The office was found to have lost something; what was done about it. */
export type Forgotten = {
  noticed_at: string;
  why: "another office" | "older" | "another log";
  operations: number;
  done_at: string | null;
  /** The records that stood here as the office had them, and that it has not told of since. */
  lacks?: string[];
};
/** Where the office stood, and the proof of what it told before it was found to lack something. */
export type Met = OfficeStanding & { before_loss?: string };
/**
 * The closed days: what closed each, and the office's time when this device first heard of it; empty: to be heard anew.
 */
export type Closings = Record<string, { by: string; heard_at: string }>;
/**
 * By record, when its words were erased last, after which operation in the office's order, and how many times; and
 * whether the office as it is now has told so.
 */
export type Erasures = Record<
  string,
  { made_at: string; at_office: boolean; office_seq?: number; times?: number }
>;
/** What the office refused, or has `kept` without its words: a person must look. */
export type Refused = {
  operation_id: string;
  operation: Operation;
  problem: Problem;
  refused_at: string;
  clock_offset_ms?: number;
  taken_once?: boolean;
  kept?: true;
  /** Its words were erased since: it goes again only if a person says so. */
  erased?: true;
  /** What somebody is putting in its place here: it waits for them, and does not go again by itself. */
  correction?: string;
};

/**
 * What was entered and is no operation yet: of which form, on which day and in which role; an older version of this app
 * wrote no role down. It leaves the device with that work.
 */
export type HeldForm = { name: string; day_id: string; role?: ThisDevice["role"]; entered: unknown };

/** What is remembered by name. */
export interface Settings {
  device: ThisDevice;
  device_seq: number;
  plans: { book: PlanBook; tag: string | null };
  "older plans": Record<string, Plan>;
  /** Where the office stood when it was heard last. */
  office: Met;
  forgotten: Forgotten;
  left: Left;
  /** By the name of its form. */
  unsent: Record<string, Unsent>;
  closings: Closings;
  erasures: Erasures;
  "numbers gone": NumbersGone;
  /** The day on which this device said last that the office keeps no copy. */
  "no copy told": string;
  [labels: `labels ${string}`]: ArrayBuffer;
  /** The entries that a desk opened last, the latest first, and each as the office told it. */
  opened: string[];
  [entry: `entry ${string}`]: Opened;
  "saved filters": SavedFilter[];
  "filters erased": FiltersErased;
  "overruled seen": string[];
}

export interface Stores extends DBSchema {
  record: { key: string; value: RecordCopy; indexes: { kind: string } };
  outbox: { key: number; value: Waiting; indexes: { operation_id: string; record_id: string } };
  answered: { key: number; value: Answered };
  refused: { key: string; value: Refused };
  photo_bytes: { key: string; value: ArrayBuffer };
  photo: { key: string; value: StoredPhoto };
  setting: { key: string; value: Settings[keyof Settings] };
  held: { key: string; value: HeldForm };
}
export type StoreName = StoreNames<Stores>;
/** A transaction over stores that its maker names; one that was begun to read refuses writes when it runs. */
export type Transaction = IDBPTransaction<Stores, StoreName[], "readwrite">;

/** What is wrong with this device's storage, in words for whoever holds it. */
export class StorageTrouble extends Error {}

/** The phone's storage does not answer; the message says what to do. */
export class StorageStopped extends StorageTrouble {
  constructor() {
    super(
      "This phone's storage stopped. Close the app fully and open it again; what was saved is still there.",
    );
  }
}

/** The phone is full; the message says what to do. */
export class StorageFull extends StorageTrouble {
  constructor() {
    super(
      "This phone is full, so the last thing was not kept. All that was saved before is still here. " +
        "Make room on the phone, or send what waits, and do the last step again.",
    );
  }
}

let full = false;

/** Whether the phone was found full, and nothing has been stored since. */
export function isPhoneFull(): boolean {
  return full;
}

/** Something new was stored: there is room again. */
export function noteStored() {
  full = false;
}

function phoneIsFull(): StorageFull {
  full = true;
  return new StorageFull();
}

/** Another tab keeps the database in the form of an older version of this app; the message says what to do. */
export class OlderAppOpen extends StorageTrouble {
  constructor() {
    super(
      "An older version of this app is open in another window, so this one cannot begin. " +
        "Close the other window; nothing is lost.",
    );
  }
}

/** The database is in the form of a newer version of this app; the message says what to do. */
export class NewerAppOpen extends StorageTrouble {
  constructor() {
    super(
      "A newer version of this app has been opened on this device. " +
        "Close this window and open the app again; nothing is lost.",
    );
  }
}

let opening: Promise<IDBPDatabase<Stores>> | null = null;

export function openDatabase(): Promise<IDBPDatabase<Stores>> {
  opening ??= open().catch((error) => {
    opening = null;
    throw error instanceof DOMException && error.name === "VersionError" ? new NewerAppOpen() : error;
  });
  return opening;
}

function open(): Promise<IDBPDatabase<Stores>> {
  return new Promise((resolve, reject) => {
    let given_up = false;
    const opened = openDB<Stores>(NAME, VERSION, {
      upgrade,
      blocked() {
        given_up = true;
        reject(new OlderAppOpen());
      },
      blocking(_current, _blocked, event) {
        (event.target as IDBDatabase).close();
        opening = null;
      },
      terminated() {
        opening = null;
      },
    });
    opened.then((db) => (given_up ? db.close() : resolve(db)), reject);
  });
}

type Upgrading = IDBPTransaction<Stores, StoreNames<Stores>[], "versionchange">;

/**
 * From whatever version there is, 0 if there is none, to this one; a step a version, none of which lets go of anything.
 */
async function upgrade(db: IDBPDatabase<Stores>, before: number, _now: number | null, tx: Upgrading) {
  if (before < 1) {
    db.createObjectStore("record", { keyPath: "record_id" }).createIndex("kind", "kind");
    const outbox = db.createObjectStore("outbox", { keyPath: "device_seq" });
    outbox.createIndex("operation_id", "operation_id");
    outbox.createIndex("record_id", "record_id");
    db.createObjectStore("refused", { keyPath: "operation_id" });
    db.createObjectStore("photo_bytes");
    db.createObjectStore("photo", { keyPath: "sha256" });
    db.createObjectStore("setting");
  }
  if (before < 2) db.createObjectStore("held", { keyPath: "name" });
  if (before < 3) {
    db.createObjectStore("answered", { keyPath: "device_seq" });
    await markFreed(tx);
  }
}

/** Until version 3 an original's bytes went as soon as the office had it. */
async function markFreed(tx: Upgrading) {
  const photos = tx.objectStore("photo");
  for (const photo of await photos.getAll())
    if (photo.at_office && !photo.is_thumb) await photos.put({ ...photo, freed: true });
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
    return await attempt(stores, mode, work, LIMIT_MS);
  } catch (error) {
    if (isFull(error)) throw phoneIsFull();
    if (!isStopped(error)) throw error;
    opening = null;
    try {
      return await attempt(stores, mode, work, LAST_LIMIT_MS);
    } catch (again) {
      if (isFull(again)) throw phoneIsFull();
      throw isStopped(again) ? new StorageStopped() : again;
    }
  }
}

/**
 * One transaction, within the limit. One that takes longer is aborted, and fails only if that has worked: what the disk
 * may have taken is never done a second time.
 */
async function attempt<T>(
  stores: StoreName[],
  mode: "readonly" | "readwrite",
  work: (tx: Transaction) => Promise<T>,
  limitMs: number,
): Promise<T> {
  const until = Date.now() + limitMs;
  const db = await withinLimit(openDatabase(), limitMs);
  // The type is the wider one; a "readonly" transaction refuses writes when it runs.
  const tx = db.transaction(stores, mode, { durability: "strict" }) as Transaction;
  const done = run(tx, work);
  try {
    return await withinLimit(done, until - Date.now());
  } catch (error) {
    if (error instanceof TookTooLong && !abort(tx)) {
      // It is being written, or has been: how that ends is all that may be said of it.
      return await withinLimit(done, LAST_LIMIT_MS).catch((late) => {
        throw late instanceof TookTooLong ? new StorageStopped() : late;
      });
    }
    throw error;
  }
}

async function run<T>(tx: Transaction, work: (tx: Transaction) => Promise<T>): Promise<T> {
  try {
    const result = await work(tx);
    await tx.done;
    return result;
  } catch (error) {
    tx.done.catch(() => {}); // the reason is thrown below
    abort(tx);
    throw tx.error ?? error;
  }
}

/** Take a transaction back; false if it is too late for that. */
function abort(tx: Transaction): boolean {
  try {
    tx.abort();
    return true;
  } catch {
    return false; // it has ended by itself, or is being written
  }
}

class TookTooLong extends DOMException {
  constructor() {
    super("The storage did not answer.", "TimeoutError");
  }
}

function withinLimit<T>(promise: Promise<T>, limitMs: number): Promise<T> {
  let timer: ReturnType<typeof setTimeout>;
  const limit = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new TookTooLong()), Math.max(0, limitMs));
  });
  return Promise.race([promise, limit]).finally(() => clearTimeout(timer));
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
