/** Filling this tab's memory: all of the database once, and every change that is written after that. */

import { batch } from "@preact/signals-core";
import type { RecordCopy } from "../job/types.ts";
import { errorWords } from "../job/words.ts";
import { assemble, assembleAll, storeCopy } from "./assembled.ts";
import {
  type Forgotten,
  type HeldForm,
  type Left,
  type Met,
  type Refused,
  type Settings,
  type StoredPhoto,
  settingIn,
  transact,
  type Waiting,
} from "./database.ts";
import type { ThisDevice } from "./device.ts";
import {
  device,
  erasedHere,
  erasures,
  forgotten,
  held,
  isLoaded,
  keptLabels,
  left,
  office,
  olderPlans,
  photos,
  plans,
  refused,
  shown,
  unsent,
  waiting,
  whyNotLoaded,
} from "./memory.ts";

/** A value that was written under a key of a store; undefined if it is gone. */
export type Change = { store: string; key: IDBValidKey; value: unknown };

/** Take over what was written, once it is on the disk. */
export function apply(changes: Change[]) {
  const changed = new Set<string>();
  batch(() => {
    for (const change of changes) applyOne(change, changed);
    assemble(changed);
  });
}

function applyOne({ store, key, value }: Change, changed: Set<string>) {
  const name = String(key);
  switch (store) {
    case "record":
      storeCopy(name, value as RecordCopy | undefined);
      changed.add(name);
      break;
    case "outbox": {
      const before = waiting.peek().find(({ device_seq }) => device_seq === key);
      const op = value as Waiting | undefined;
      for (const touched of [before, op]) if (touched) changed.add(touched.record_id);
      waiting.value = replaced(waiting.peek(), before, op);
      break;
    }
    case "refused":
      refused.value = replaced(
        refused.peek(),
        refused.peek().find(({ operation_id }) => operation_id === key),
        value as Refused | undefined,
      );
      break;
    case "photo":
      photos.value = replaced(
        photos.peek(),
        photos.peek().find(({ sha256 }) => sha256 === key),
        value as StoredPhoto | undefined,
      );
      break;
    case "held":
      if (value) held.set(name, value as HeldForm);
      else held.delete(name);
      break;
    case "setting":
      applySetting(name, value, changed);
  }
}

/** What is on the screen was read before; whoever shows it reads it anew. */
function hearErased(now: Settings["erasures"]) {
  const before = erasures.peek();
  erasures.value = now;
  const isNew = (id: string) =>
    now[id]?.made_at !== before[id]?.made_at || now[id]?.times !== before[id]?.times;
  if (Object.keys(now).some((id) => isNew(id) && shown.get(id)?.peek())) erasedHere.value += 1;
}

/** A list with one member in place of another, or added, or left out. */
function replaced<Member>(list: Member[], before: Member | undefined, after: Member | undefined): Member[] {
  if (before === undefined) return after === undefined ? list : [...list, after];
  return list.flatMap((member) => (member === before ? (after ?? []) : member));
}

/** Which owners are read here hangs on these. */
const seatOf = (of: ThisDevice | null) => of && [of.role, of.device_id, of.table_id].join(" ");

function applyDevice(now: ThisDevice | null, changed: Set<string>) {
  if (seatOf(now) !== seatOf(device.peek())) for (const id of shown.keys()) changed.add(id);
  device.value = now;
}

function applySetting(name: string, value: unknown, changed: Set<string>) {
  if (name === "device") applyDevice((value as ThisDevice | undefined) ?? null, changed);
  else if (name === "office") office.value = value as Met;
  else if (name === "forgotten") forgotten.value = value as Forgotten;
  else if (name === "erasures") hearErased(value as Settings["erasures"]);
  else if (name === "left") left.value = value as Left;
  else if (name === "unsent") unsent.value = (value as Settings["unsent"] | undefined) ?? {};
  else if (name === "plans") plans.value = value as Settings["plans"];
  else if (name === "older plans") olderPlans.value = value as Settings["older plans"];
  else if (name.startsWith("labels ")) {
    keptLabels.value = new Set([...keptLabels.peek(), name.slice("labels ".length)]);
  }
}

let loading: Promise<void> | null = null;

/** Read the database, once; again if it could not be read. */
export function load(): Promise<void> {
  loading ??= read().then(
    () => {
      whyNotLoaded.value = "";
    },
    (error) => {
      loading = null;
      whyNotLoaded.value = errorWords(error);
      throw error;
    },
  );
  return loading;
}

/** Read it once more: while the page was frozen, another tab may have written. */
export async function loadAgain() {
  await load();
  loading = null;
  await load();
}

async function read() {
  const found = await transact(
    ["record", "outbox", "refused", "photo", "setting", "held"],
    "readonly",
    async (tx) => ({
      records: await tx.objectStore("record").getAll(),
      waiting: await tx.objectStore("outbox").getAll(),
      refused: await tx.objectStore("refused").getAll(),
      photos: await tx.objectStore("photo").getAll(),
      names: await tx.objectStore("setting").getAllKeys(),
      held: await tx.objectStore("held").getAll(),
      device: await settingIn(tx, "device"),
      office: await settingIn(tx, "office"),
      forgotten: await settingIn(tx, "forgotten"),
      left: await settingIn(tx, "left"),
      erasures: await settingIn(tx, "erasures"),
      unsent: await settingIn(tx, "unsent"),
      plans: await settingIn(tx, "plans"),
      older: await settingIn(tx, "older plans"),
    }),
  );
  batch(() => {
    device.value = found.device ?? null;
    office.value = found.office ?? null;
    forgotten.value = found.forgotten ?? null;
    left.value = found.left ?? null;
    erasures.value = found.erasures ?? {};
    unsent.value = found.unsent ?? {};
    waiting.value = found.waiting;
    refused.value = found.refused;
    photos.value = found.photos;
    if (found.plans?.tag !== plans.peek()?.tag || !plans.peek()) plans.value = found.plans ?? null;
    olderPlans.value = found.older ?? {};
    keptLabels.value = new Set(found.names.flatMap((name) => /^labels (.+)$/.exec(name)?.[1] ?? []));
    held.clear();
    for (const form of found.held) held.set(form.name, form);
    assembleAll(found.records);
    isLoaded.value = true;
  });
}
