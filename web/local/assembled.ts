/**
 * Each record as it is to be shown: the office's last copy with what waits on this device on top, and the others of the
 * same thing beside it. What says the same as before keeps its identity.
 */
import { idsOfThing } from "../job/doubles.ts";
import { asReadElsewhere, isOwnVisit, readUntil } from "../job/owners_words.ts";
import { withOperations } from "../job/record.ts";
import type { RecordCopy, RecordKind } from "../job/types.ts";
import { fieldValue, groupedBy } from "../job/values.ts";
import type { Waiting } from "./database.ts";
import { device, listSignal, shown, shownSignal, waiting } from "./memory.ts";

/** The office's last copy of each record. */
const stored = new Map<string, RecordCopy>();

/** Which record stands behind which other. */
const behind = new Map<string, string>();

/** The visits whose owners a table does not read, each with the last operation from when it did. */
const unread = new Map<string, number>();

/** Take over the office's copy of a record, or that it is gone; it is shown with the next `assemble`. */
export function storeCopy(id: string, copy: RecordCopy | undefined) {
  if (copy) stored.set(id, copy);
  else stored.delete(id);
}

/** The office's last copy of a record; undefined if this tab knows of none. */
export function storedCopy(id: string): RecordCopy | undefined {
  return stored.get(id);
}

/** The office's last copies of all records that this tab knows of. */
export function storedCopies(): Iterable<RecordCopy> {
  return stored.values();
}

/** Begin with these copies and nothing else, and put all of it together. */
export function assembleAll(copies: RecordCopy[]) {
  stored.clear();
  behind.clear();
  unread.clear();
  for (const copy of copies) stored.set(copy.record_id, copy);
  const touched = waiting.peek().map(({ record_id }) => record_id);
  assemble(new Set([...shown.keys(), ...stored.keys(), ...touched]));
}

/** Put these records together anew, those of the same things, and the lists that they stand in. */
export function assemble(changed: Set<string>) {
  if (!changed.size) return;
  const operations = groupedBy(
    waiting.peek().filter(({ again }) => !again),
    ({ record_id }) => record_id,
  );
  const on = (id: string): readonly Waiting[] => operations.get(id) ?? [];
  const fresh = new Map<string, RecordCopy | null>();
  for (const id of changed) fresh.set(id, withOperations(stored.get(id) ?? null, on(id)));
  hideOwners(fresh, on);
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

/**
 * What a table knows of itself holds before the office is reached: of an owner who does not sit at it any more, or at
 * whose seat it is not, the words are out of sight until they are its own again, or the office takes them from it.
 */
function hideOwners(fresh: Map<string, RecordCopy | null>, on: (id: string) => readonly Waiting[]) {
  const here = device.peek();
  if (here?.role !== "table" && !unread.size) return;
  const turned = new Set<string>();
  for (const [id, copy] of fresh) {
    if (copy?.kind !== "visit") continue;
    const isRead = here?.role !== "table" || isOwnVisit(copy, here);
    const until = isRead ? undefined : readUntil(on(id), here);
    if (until === unread.get(id)) continue;
    turned.add(id);
    if (until === undefined) unread.delete(id);
    else unread.set(id, until);
  }
  const isTurned = (copy: RecordCopy | null) => copy?.kind === "item" && turned.has(copy.visit_id);
  if (turned.size)
    for (const [id, known] of shown)
      if (!fresh.has(id) && isTurned(known.peek()))
        fresh.set(id, withOperations(stored.get(id) ?? null, on(id)));
  for (const [id, copy] of fresh) {
    const until = unread.get(copy?.kind === "item" ? copy.visit_id : id);
    if (until !== undefined) fresh.set(id, asReadElsewhere(stored.get(id) ?? null, on(id), until));
  }
}

/** These records, and all that are or were of one thing with them. */
function withDoubles(fresh: ReadonlyMap<string, RecordCopy | null>): Set<string> {
  const ids = new Set(fresh.keys());
  const others = () => {
    if (behind.size)
      for (const id of fresh.keys()) for (const other of idsOfThing(id, behind)) ids.add(other);
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
  const plain = (key: string) => (fresh.has(key) ? (fresh.get(key) ?? null) : alone(shownSignal(key).peek()));
  const copy = plain(id);
  const doubles = behind.size
    ? idsOfThing(id, behind).flatMap((other) => (other === id ? [] : (plain(other) ?? [])))
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
  listSignal(kind).value = of.sort((a, b) => a.opened_at.localeCompare(b.opened_at));
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
