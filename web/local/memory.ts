/**
 * What this tab knows of this device: records, outbox, photos, plans, read once and told of every change after that.
 *
 * It stands between IndexedDB and the screens. Whatever reads a signal here is drawn again when that value changes, and
 * values that did not change keep their identity: a key redraws its own field and nothing beside it.
 */
import { batch, type Signal, signal } from "@preact/signals-core";
import { idsOfThing } from "../job/doubles.ts";
import { wholeBook, wholePlan } from "../job/plan.ts";
import { withOperations } from "../job/record.ts";
import type { ItemRecord, Plan, PlanBook, RecordCopy, RecordKind, RecordOf } from "../job/types.ts";
import { fieldValue, groupedBy } from "../job/values.ts";
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
import { derived } from "./derived.ts";
import type { ThisDevice } from "./device.ts";

/** Whether the device's own database has been read; before that nothing is known, not even that there is nothing. */
export const isLoaded = signal(false);
/** Why it could not be read the last time, with what to do; empty while nothing stands in the way. */
export const whyNotLoaded = signal("");
export const device = signal<ThisDevice | null>(null);
/** Operations on this device only, the oldest first. */
export const waiting = signal<Waiting[]>([]);
export const refused = signal<Refused[]>([]);
export const photos = signal<StoredPhoto[]>([]);
/** Forms that somebody is half-way through. */
export const held = new Map<string, HeldForm>();
/** The rolls whose labels are kept here, so that they print with no network. */
export const keptLabels = signal<ReadonlySet<string>>(new Set());
export const plans = signal<Settings["plans"] | null>(null);
/** Where the office stood when it was heard last. */
export const office = signal<Met | null>(null);
/** The last time that the office was found to have lost something. */
export const forgotten = signal<Forgotten | null>(null);
/** When records left this device last, and why. */
export const left = signal<Left | null>(null);
const olderPlans = signal<Settings["older plans"]>({});

/** The office's last copy of each record. */
const stored = new Map<string, RecordCopy>();
/** Each record as it is to be shown: the office's copy with what waits on top. */
const shown = new Map<string, Signal<RecordCopy | null>>();
const lists = new Map<RecordKind, Signal<RecordCopy[]>>();

/** A record as it is now; null if this device has none of that id, undefined until the database has been read. */
export function record(id: string): RecordCopy | null | undefined {
  return isLoaded.value ? shownSignal(id).value : undefined;
}

/** A record of a kind. */
export function recordOf<Kind extends RecordKind>(kind: Kind, id: string): RecordOf<Kind> | null | undefined {
  const found = record(id);
  return found && found.kind !== kind ? null : (found as RecordOf<Kind> | null | undefined);
}

/** Every record of a kind, or those of one day, the oldest first; undefined until the database has been read. */
export function records<Kind extends RecordKind>(kind: Kind, day_id = ""): RecordOf<Kind>[] | undefined {
  if (!isLoaded.value) return undefined;
  return (day_id ? listOfDay(kind, day_id) : listSignal(kind).value) as RecordOf<Kind>[];
}

/** The items of a visit, the oldest first; undefined until the database has been read. */
export function itemsOfVisit(visit_id: string): readonly ItemRecord[] | undefined {
  return isLoaded.value ? itemsOf(visit_id) : undefined;
}

export function planBook(): PlanBook | null | undefined {
  if (!isLoaded.value) return undefined;
  const stored = plans.value?.book;
  return stored ? whole(wholeBooks, stored, wholeBook) : null;
}

/** What the row of a hazard is called; "" if this device does not have it. */
export function rowName(hazard: string) {
  return planBook()?.cautions?.cautions.find((row) => row.hazard === hazard)?.name ?? "";
}

/** A class, and the version of its plan with which a record was made. */
export type PlanName = { class_id: string; plan_version: string };

export function planNameOf(item: RecordCopy): PlanName {
  return {
    class_id: fieldValue(item, "class_id") ?? "",
    plan_version: fieldValue(item, "plan_version") ?? "",
  };
}

/** The plan that a record was made with, else the nearest there is of its class. */
export function planOf(item: RecordCopy): Plan | null {
  return planNamed(planNameOf(item));
}

export function planNamed({ class_id, plan_version }: PlanName): Plan | null {
  if (!class_id) return null;
  const older = olderPlans.value[`${class_id} ${plan_version}`];
  const written = older ?? plans.value?.book.plans[class_id];
  return written ? whole(wholePlans, written, wholePlan) : null;
}

const wholePlans = new WeakMap<Plan, Plan>();
const wholeBooks = new WeakMap<PlanBook, PlanBook>();

/** What was stored, with what it did not say yet; made once. */
function whole<Stored extends object>(
  made: WeakMap<Stored, Stored>,
  stored: Stored,
  make: (one: Stored) => Stored,
): Stored {
  const known = made.get(stored) ?? make(stored);
  made.set(stored, known);
  return known;
}

function shownSignal(id: string): Signal<RecordCopy | null> {
  const known = shown.get(id) ?? signal<RecordCopy | null>(null);
  shown.set(id, known);
  return known;
}

function listSignal(kind: RecordKind): Signal<RecordCopy[]> {
  const known = lists.get(kind) ?? signal<RecordCopy[]>([]);
  lists.set(kind, known);
  return known;
}

const byDay = derived((kind: RecordKind) => groupedBy(listSignal(kind).value, ({ day_id }) => day_id));
const listsOfDays = derived((key: `${RecordKind} ${string}`) => {
  const [kind, day_id] = key.split(" ") as [RecordKind, string];
  return byDay(kind).get(day_id) ?? [];
});

function listOfDay(kind: RecordKind, day_id: string) {
  return listsOfDays(`${kind} ${day_id}`);
}

const byVisit = derived((kind: "item") =>
  groupedBy(listSignal(kind).value as ItemRecord[], ({ visit_id }) => visit_id),
);
const itemsOf = derived((visit_id: string): readonly ItemRecord[] => byVisit("item").get(visit_id) ?? []);

/** A value that was written under a key of a store; undefined if it is gone. */
export type Change = { store: string; key: IDBValidKey; value: unknown };

/** Take over what was written, once it is on the disk. */
export function apply(changes: Change[]) {
  const changed = new Set<string>();
  batch(() => {
    for (const change of changes) applyOne(change, changed);
    redraw(changed);
  });
}

function applyOne({ store, key, value }: Change, changed: Set<string>) {
  const name = String(key);
  switch (store) {
    case "record":
      if (value) stored.set(name, value as RecordCopy);
      else stored.delete(name);
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
      applySetting(name, value);
  }
}

/** A list with one member in place of another, or added, or left out. */
function replaced<Member>(list: Member[], before: Member | undefined, after: Member | undefined): Member[] {
  if (before === undefined) return after === undefined ? list : [...list, after];
  return list.flatMap((member) => (member === before ? (after ?? []) : member));
}

function applySetting(name: string, value: unknown) {
  if (name === "device") device.value = (value as ThisDevice | undefined) ?? null;
  else if (name === "office") office.value = value as Met;
  else if (name === "forgotten") forgotten.value = value as Forgotten;
  else if (name === "left") left.value = value as Left;
  else if (name === "plans") plans.value = value as Settings["plans"];
  else if (name === "older plans") olderPlans.value = value as Settings["older plans"];
  else if (name.startsWith("labels ")) {
    keptLabels.value = new Set([...keptLabels.peek(), name.slice("labels ".length)]);
  }
}

/** Which record stands behind which other. */
const behind = new Map<string, string>();

/** Put these records together anew, those of the same things, and the lists that they stand in. */
function redraw(changed: Set<string>) {
  if (!changed.size) return;
  const operations = new Map<string, Waiting[]>([...changed].map((id) => [id, []]));
  for (const op of waiting.peek()) if (!op.again) operations.get(op.record_id)?.push(op);
  const fresh = new Map<string, RecordCopy | null>();
  for (const [id, ops] of operations) fresh.set(id, withOperations(stored.get(id) ?? null, ops));
  const kinds = new Set<RecordKind>();
  for (const id of withDoubles(fresh)) {
    const known = shownSignal(id);
    const before = known.peek();
    const after = alike(before, withItsDoubles(id, fresh));
    known.value = after;
    for (const touched of [before, after]) if (touched && before !== after) kinds.add(touched.kind);
  }
  for (const kind of kinds) relist(kind);
}

/** These records, and all that are or were of one thing with them. */
function withDoubles(fresh: ReadonlyMap<string, RecordCopy | null>): Set<string> {
  const ids = new Set(fresh.keys());
  const others = () => {
    if (behind.size) for (const id of fresh.keys()) for (const one of idsOfThing(id, behind)) ids.add(one);
  };
  others();
  for (const [id, copy] of fresh) {
    const into = copy && fieldValue(copy, "merged")?.into_id;
    if (into) behind.set(id, into);
    else behind.delete(id);
  }
  others();
  return ids;
}

/** A record as it was put together, with the others of the same thing beside it. */
function withItsDoubles(id: string, fresh: ReadonlyMap<string, RecordCopy | null>): RecordCopy | null {
  const plain = (one: string) => (fresh.has(one) ? (fresh.get(one) ?? null) : alone(shownSignal(one).peek()));
  const copy = plain(id);
  const doubles = behind.size
    ? idsOfThing(id, behind).flatMap((one) => (one === id ? [] : (plain(one) ?? [])))
    : [];
  return copy && doubles.length ? { ...copy, doubles } : copy;
}

function alone(copy: RecordCopy | null): RecordCopy | null {
  if (!copy?.doubles) return copy;
  const { doubles, ...plain } = copy;
  return plain as RecordCopy;
}

function relist(kind: RecordKind) {
  const of = [...shown.values()].flatMap((known) => {
    const found = known.peek();
    return found?.kind === kind ? found : [];
  });
  listSignal(kind).value = of.sort((one, other) => one.opened_at.localeCompare(other.opened_at));
}

/** The later record, with what says the same as before taken from the earlier one. */
function alike(before: RecordCopy | null, after: RecordCopy | null): RecordCopy | null {
  if (!before || !after) return after;
  const fields = { ...after.fields };
  let same = Object.keys(before.fields).length === Object.keys(fields).length;
  for (const [name, set] of Object.entries(fields)) {
    const earlier = before.fields[name];
    const equal =
      earlier !== undefined && (earlier === set || JSON.stringify(earlier) === JSON.stringify(set));
    if (equal) fields[name] = earlier;
    else same = false;
  }
  const rest = (copy: RecordCopy) => JSON.stringify({ ...copy, fields: null });
  return same && rest(before) === rest(after) ? before : { ...after, fields };
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
      whyNotLoaded.value = error instanceof Error ? error.message : String(error);
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
      plans: await settingIn(tx, "plans"),
      older: await settingIn(tx, "older plans"),
    }),
  );
  batch(() => {
    device.value = found.device ?? null;
    office.value = found.office ?? null;
    forgotten.value = found.forgotten ?? null;
    left.value = found.left ?? null;
    waiting.value = found.waiting;
    refused.value = found.refused;
    photos.value = found.photos;
    if (found.plans?.tag !== plans.peek()?.tag || !plans.peek()) plans.value = found.plans ?? null;
    olderPlans.value = found.older ?? {};
    keptLabels.value = new Set(found.names.flatMap((name) => /^labels (.+)$/.exec(name)?.[1] ?? []));
    held.clear();
    for (const form of found.held) held.set(form.name, form);
    stored.clear();
    behind.clear();
    for (const copy of found.records) stored.set(copy.record_id, copy);
    redraw(new Set([...shown.keys(), ...stored.keys(), ...found.waiting.map(({ record_id }) => record_id)]));
    isLoaded.value = true;
  });
}
