/**
 * What this tab knows of this device: records, outbox, photos, plans, read once and told of every change after that.
 *
 * It stands between IndexedDB and the screens. Whatever reads a signal here is drawn again when that value changes, and
 * values that did not change keep their identity: a key redraws its own field and nothing beside it.
 */
import { type Signal, signal } from "@preact/signals-core";
import type { ItemRecord, RecordCopy, RecordKind, RecordOf } from "../job/types.ts";
import { groupedBy } from "../job/values.ts";
import type { Forgotten, HeldForm, Left, Met, Refused, Settings, StoredPhoto, Waiting } from "./database.ts";
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
/** Whose words are known to be erased. */
export const erasures = signal<Settings["erasures"]>({});
/** How often words of a record that is here were erased while this page was open. */
export const erasedHere = signal(0);
/** When records left this device last, and why. */
export const left = signal<Left | null>(null);
/** What was typed into forms that left this device, and that nobody has read since. */
export const unsent = signal<Settings["unsent"]>({});
export const olderPlans = signal<Settings["older plans"]>({});

/** Each record as it is to be shown: the office's copy with what waits on top. */
export const shown = new Map<string, Signal<RecordCopy | null>>();
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

/** The signal of a record, and of the list of a kind, for whoever puts them together. */
export function shownSignal(id: string): Signal<RecordCopy | null> {
  const known = shown.get(id) ?? signal<RecordCopy | null>(null);
  shown.set(id, known);
  return known;
}

export function listSignal(kind: RecordKind): Signal<RecordCopy[]> {
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
