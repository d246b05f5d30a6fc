/**
 * The outbox: operations that are still on this device only. One leaves it when the office has answered it, not
 * when it was sent, and never by age. A refused one moves to the list that a person works off.
 */

import { signal } from "@preact/signals-core";
import { same } from "../job/between.ts";
import { peopleHere, personLeft } from "../job/day_facts.ts";
import { newId, newSalt } from "../job/ids.ts";
import { KINDS, type KindSays } from "../job/kinds.ts";
import { fieldOf, personalIn, recordIdOf } from "../job/operation.ts";
import type { Kind } from "../job/operations.ts";
import { asReadElsewhere, isOwnVisit, readUntil } from "../job/owners_words.ts";
import { applyOperation } from "../job/record.ts";
import type { Answer, BodyOf, Operation, Problem, RecordCopy } from "../job/types.ts";
import { listed, readsOwner } from "../job/values.ts";
import { type Writing, write } from "./changes.ts";
import type { Answered, Refused, StoreName, Waiting } from "./database.ts";
import type { ThisDevice } from "./device.ts";
import { records } from "./memory.ts";
import { typedSince } from "./typing.ts";

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
type Draft = Operation & { seen?: string | null; salt?: string | null };

/** Keep an operation on this device, with the picture it speaks of; resolves when the disk has both. */
export function keep<K extends Kind>(kind: K, body: BodyOf<K>, photo?: PhotoBytes): Promise<Operation> {
  return keepOne(kind, body, { photo });
}

/** Keep several of a kind, which one press said: all of them or, where the page is killed before, none. */
export function keepAll<K extends Kind>(kind: K, bodies: readonly BodyOf<K>[]): Promise<Operation[]> {
  return keepInStore(kind, bodies, {});
}

/**
 * Keep what changes of a field's value. The rest is taken as it stands in the store, so that two changes made before
 * a screen was drawn again do not undo each other.
 */
export function amend<K extends Kind>(kind: K, body: Partial<BodyOf<K>>): Promise<Operation> {
  return keepOne(kind, body, { amending: true });
}

/** When it was typed, by this device's clock, and whether the value that stands now was not to be seen then. */
export type Typing = { at?: number; unseen?: boolean };

let typing: Typing = {};

/** Counts what is done on this device, but for what is typed: the way back from what was done before ends with it. */
export const acts = signal(0);

/**
 * What is kept while this is called was typed so. Whoever asked for its erasure since `at` meant it as well; if it was
 * `unseen` and another value stands, it ends as a disagreement instead of replacing that.
 */
export function asTyped<Result>(how: Typing, work: () => Result): Result {
  typing = how;
  try {
    return work();
  } finally {
    typing = {};
  }
}

/** Nobody is named at this device, or whoever was has left; the message says what to do. */
export class NobodyNamed extends Error {
  constructor(left = "") {
    super(
      `${left}Say first who is here, on Today, beside the queue or at the top of Day: every record says who made it. ` +
        "What you typed is still here.",
    );
  }
}

/**
 * Throws NobodyNamed if whoever is at this device has left the day that it works on, or every day that is here; or if
 * nobody is named while there is somebody to choose. A desk's list is at the office.
 */
function checkNamed({ person_id, day_id, role }: ThisDevice) {
  const days = records("day")?.filter(({ record_id }) => !day_id || record_id === day_id) ?? [];
  const left = personLeft(days, person_id);
  if (left) throw new NobodyNamed(`${left.name} has left. `);
  if (!person_id && (role === "desk" || days.some((day) => peopleHere(day).length))) throw new NobodyNamed();
}

/** What somebody did and then wrote of: of these alone `amend` changes in place what was not sent yet. */
const WRITTEN_OF: ReadonlySet<Kind> = new Set(["check_in"]);

type How = { photo?: PhotoBytes | undefined; amending?: boolean };

async function keepOne(kind: Kind, body: object, how: How): Promise<Operation> {
  return (await keepInStore(kind, [body], how))[0] as Operation;
}

async function keepInStore(
  kind: Kind,
  bodies: readonly object[],
  { photo, amending = false }: How,
): Promise<Operation[]> {
  const { at = Date.now(), unseen = false } = typing;
  const isTyped = "unseen" in typing || typedSince() !== null;
  const says: KindSays = KINDS[kind];
  const stores: StoreName[] = ["record", "outbox", "setting", ...PHOTO_STORES.filter(() => photo)];
  const isToldWords = bodies.some((body) => "field" in body && body.field === "told_words");
  if (kind === "set_consignor" || kind === "correct_told_note" || isToldWords) stores.push("answered");
  const all = await write(stores, async (tx) => {
    const device = await tx.setting("device");
    if (!device) throw new Error("This device is not paired yet.");
    // The list that names are chosen from: its day and its first person are nobody's, and who has left may be back.
    const isList = kind === "open_day" || (kind === "add_person" && device.person_id);
    if (!says.always_taken && !photo && !isList) checkNamed(device);
    if (photo) await storePhoto(tx, photo);
    const kept: Operation[] = [];
    for (const body of bodies) kept.push(await keepIn(tx, device, kind, body, { at, unseen, amending }));
    return kept;
  });
  if (!isTyped) acts.value++;
  return all;
}

type Saying = Required<Typing> & { amending: boolean };

async function keepIn(
  tx: Writing,
  device: ThisDevice,
  kind: Kind,
  body: object,
  { at, unseen, amending }: Saying,
): Promise<Operation> {
  const { clock_offset_ms } = device;
  const says: KindSays = KINDS[kind];
  const fresh = {
    operation_id: newId(),
    kind,
    made_at: nowBy(clock_offset_ms, at),
    made_by: device.person_id ?? "",
    device_id: device.device_id,
    device_seq: 0,
    ...(says.hands_on && { heard_stops: heardStops(device) }),
    ...body,
  } as Draft;
  const draft = amending ? await completed(tx, fresh, body) : fresh;
  const record_id = recordIdOf(draft);
  const isChanged = says.replaceable || (amending && WRITTEN_OF.has(kind));
  const earlier = isChanged ? await replaceable(tx, record_id, draft) : undefined;
  if (earlier) return replace(tx, { ...earlier, clock_offset_ms }, draft, body);
  if (personalIn(draft).length) draft.salt ??= newSalt();
  const name = nameSeen(draft);
  if (name && !("seen" in body)) {
    const current = unseen ? null : await readHere(tx, device, record_id);
    draft.seen = current?.fields[name]?.operation_id ?? (await ownWord(tx, device, current, name));
  }
  draft.device_seq = await nextSeq(tx);
  await tx.put("outbox", { ...draft, record_id, attempted: false, clock_offset_ms });
  return draft;
}

/**
 * The red cautions, and what was taken away, that whoever is at this device could know of; null at a desk, which keeps
 * no copy of the day.
 */
function heardStops({ role }: ThisDevice) {
  if (role === "desk") return null;
  return (
    records("item")?.flatMap((item) => [
      ...listed(item, "cautions/").flatMap(({ value, set }) =>
        value.level === "red" ? set.operation_id : [],
      ),
      ...listed(item, "caution-decisions/").flatMap(({ value, set }) =>
        value.decision === "taken-away" ? set.operation_id : [],
      ),
    ]) ?? null
  );
}

/** The field whose value its maker was looking at. A person of the day's list stands in the operation as a whole. */
function nameSeen(op: Operation): string | undefined {
  if (op.kind === "tie_tag") return `tags/${op.tag}`;
  return op.kind === "add_person" ? `people/${op.person.person_id}` : fieldOf(op)?.[0];
}

/**
 * The newest word of this device for a field of an owner whose words it does not read: the feed brings the record
 * without it, yet whoever says another goes on from that one. So it is with what they told of a thing.
 */
async function ownWord(tx: Writing, here: ThisDevice, record: RecordCopy | null, name: string) {
  if (!record || !(await isUnread(tx, here, record, name))) return null;
  const isOfIt = (op: Answered) => op.record_id === record.record_id && fieldOf(op)?.[0] === name;
  return (await tx.answered()).findLast((op) => op.outcome === "kept" && isOfIt(op))?.operation_id ?? null;
}

/** Whether a field of a thing holds what its owner told of it. */
const isTold = (name: string) => name === "told_words" || name.startsWith("finding-notes/");

async function isUnread(tx: Writing, here: ThisDevice, record: RecordCopy, name: string) {
  if (record.kind === "item") return isTold(name) && !readsOwner(await readHere(tx, here, record.visit_id));
  return record.fields.called && name.startsWith("consignor/");
}

/** A record as it stands here to be seen: a table does not see the words of owners who are none of its own. */
async function readHere(tx: Writing, here: ThisDevice, record_id: string): Promise<RecordCopy | null> {
  const current = await tx.current(record_id);
  const visit_id = current?.kind === "item" ? current.visit_id : record_id;
  const visit = visit_id === record_id ? current : await tx.current(visit_id);
  if (here.role !== "table" || visit?.kind !== "visit" || isOwnVisit(visit, here)) return current;
  const waits = async (id: string) => (await tx.waitingOn(id)).filter(({ again }) => !again);
  const until = readUntil(await waits(visit_id), here);
  return asReadElsewhere((await tx.get("record", record_id)) ?? null, await waits(record_id), until);
}

/** The time by this device's clock with so much added. */
export function nowBy(clock_offset_ms = 0, at = Date.now()): string {
  return new Date(at + clock_offset_ms).toISOString();
}

/** The draft with all that stands in its field and is not changed by it. */
async function completed(tx: Writing, draft: Draft, body: object): Promise<Draft> {
  const field = fieldOf(draft)?.[0] ?? "";
  const standing = (await tx.current(recordIdOf(draft)))?.fields[field]?.value;
  return { ...draft, ...(standing as object), ...body };
}

/** The next place in the device's own order. */
async function nextSeq(tx: Writing): Promise<number> {
  const device_seq = 1 + ((await tx.setting("device_seq")) ?? 0);
  await tx.remember("device_seq", device_seq);
  return device_seq;
}

/** An earlier value of the same field that was never sent and that nothing was built upon. */
async function replaceable(tx: Writing, record_id: string, draft: Draft): Promise<Waiting | undefined> {
  const name = fieldOf(draft)?.[0];
  const earlier = (await tx.waitingOn(record_id)).findLast(
    (op) =>
      !op.attempted &&
      op.kind === draft.kind &&
      fieldOf(op)?.[0] === name &&
      (op.made_by === draft.made_by || !WRITTEN_OF.has(op.kind)),
  );
  if (!earlier || (await isBuiltUpon(tx, earlier, await tx.oldest(undefined, earlier.device_seq)))) return;
  return earlier;
}

/** Whether somebody signed for what stood, or gave a word on it, after this was said of its record. */
async function isBuiltUpon(tx: Writing, { record_id }: Waiting, later: readonly Waiting[]) {
  const words = later.filter(({ kind }) => (KINDS[kind] as KindSays).on_what_stood);
  if (!words.length) return false;
  const record = await tx.current(record_id);
  const around = [record_id, record?.kind === "item" && record.visit_id, record?.day_id];
  return words.some((op) => around.includes(op.record_id));
}

/** Put a later value into the place of an earlier one, which keeps its id, its place and its salt. */
async function replace(tx: Writing, earlier: Waiting & Draft, draft: Draft, body: object) {
  const { made_at, made_by } = draft;
  const changed = { ...earlier, ...body, made_at, made_by, seen: earlier.seen ?? null } as Waiting;
  await tx.put("outbox", changed);
  return bare(changed);
}

const PHOTO_STORES: StoreName[] = ["photo", "photo_bytes"];

async function storePhoto(tx: Writing, { sha256, bytes, thumb_sha256, thumb, media_type }: PhotoBytes) {
  await tx.put("photo_bytes", bytes, sha256);
  await tx.put("photo_bytes", thumb, thumb_sha256);
  const small = { sha256: thumb_sha256, size: thumb.byteLength, media_type: "image/jpeg" };
  await tx.put("photo", { ...small, is_thumb: true, at_office: false });
  await tx.put("photo", { sha256, size: bytes.byteLength, media_type, is_thumb: false, at_office: false });
}

/** An operation without what only this device knows of it. */
function bare(waiting: Waiting): Operation {
  const {
    record_id,
    attempted,
    waits,
    again,
    taken_once,
    of_day,
    clock_offset_ms,
    without_words,
    ...operation
  } = waiting;
  return (operation.kind === "settle_disagreement" ? { ...operation, record_id } : operation) as Operation;
}

/**
 * Take back the newest operation of this device, as if it had not been made; whether that could be done. It cannot once
 * it was tried to send, or another was made after it, which may build upon it.
 */
export function takeBack(operation_id: string): Promise<boolean> {
  return write(["outbox", "setting"], async (tx) => {
    const op = await tx.waitingAs(operation_id);
    if (!op || op.attempted || op.device_seq !== (await tx.setting("device_seq"))) return false;
    await closeUp(tx, op, []);
    return true;
  });
}

/** Why an operation that is to be taken back stays: the office may have it, or somebody said otherwise since. */
export type Stays = { made: Operation; why: "sent" | "changed" };

/**
 * Take back what was said of fields, as if it had not been, whatever else was made after it; those that stay. One
 * stays once it was tried to send, or signed for, and when its field was set again. What is one act, `atOnce`, goes as
 * a whole or stays.
 */
export function takeAllBack(all: readonly Operation[], atOnce = false): Promise<Stays[]> {
  return write(["record", "outbox", "setting"], async (tx) => {
    const goThrough = async (isTaken: boolean) => {
      const stays: Stays[] = [];
      for (const made of all) {
        const op = await tx.waitingAs(made.operation_id);
        const later = op ? await tx.oldest(undefined, op.device_seq) : [];
        const isSetAgain = later.some((other) => (other as Draft).seen === made.operation_id);
        if (!op || op.attempted || (await isBuiltUpon(tx, op, later))) stays.push({ made, why: "sent" });
        else if (isSetAgain || op.made_at !== made.made_at) stays.push({ made, why: "changed" });
        else if (isTaken) await closeUp(tx, op, later);
      }
      return stays;
    };
    const stays = atOnce ? await goThrough(false) : [];
    return stays.length ? stays : goThrough(true);
  });
}

/** Those behind one that goes move up: the office counts a device's operations without a gap. */
async function closeUp(tx: Writing, { device_seq }: Waiting, later: readonly Waiting[]) {
  await tx.delete("outbox", device_seq);
  for (const op of later) {
    await tx.delete("outbox", op.device_seq);
    await tx.put("outbox", { ...op, device_seq: op.device_seq - 1 });
  }
  await tx.remember("device_seq", device_seq + later.length - 1);
}

/**
 * Operations to be sent, and the first that this device can still send at all. `dealt_with` names those that the office
 * refused before it forgot them, and that a person has put right since: they must not count beside what replaced them.
 */
export type Batch = { operations: Operation[]; holds_from: number; dealt_with: string[] };

/**
 * The oldest operations that were made after one, marked as tried before they leave: from now on none of them is
 * changed in place. One that is being typed stays, with what follows it. All of a batch have their times by one clock,
 * and `clock_offset_ms` says by which: what this device adds to its own changes when it hears the office. `bytes` is
 * the most that they have together as they are sent; one that has more by itself goes alone.
 */
export function takeBatch(
  limit: number,
  after = 0,
  bytes = Infinity,
): Promise<Batch & { clock_offset_ms?: number }> {
  return write(["outbox", "answered", "refused"], async (tx) => {
    const batch = withinBytes(byOneClock(wholeOnes(await tx.oldest(limit, after))), bytes);
    const dealt_with: string[] = [];
    for (const { operation_id, again } of batch)
      if (again === "refused" && !(await tx.get("refused", operation_id))) dealt_with.push(operation_id);
    for (const op of batch) if (!op.attempted) await tx.put("outbox", { ...op, attempted: true });
    const first = [...(await tx.answered(1)), ...(await tx.oldest(1))].map(({ device_seq }) => device_seq);
    const { clock_offset_ms } = batch[0] ?? {};
    return { operations: batch.map(bare), holds_from: Math.min(...first), dealt_with, clock_offset_ms };
  });
}

/** The first of these operations, up to one that somebody is still typing. */
function wholeOnes(operations: Waiting[]): Waiting[] {
  const since = typedSince();
  if (since === null) return operations;
  const isTyped = ({ kind }: Waiting) => (KINDS[kind] as KindSays).replaceable || WRITTEN_OF.has(kind);
  const typed = operations.findIndex(
    (op) => !op.attempted && isTyped(op) && op.made_at >= nowBy(op.clock_offset_ms, since),
  );
  return typed < 0 ? operations : operations.slice(0, typed);
}

/** The first of these operations, as far as their times are by the same clock. */
function byOneClock(operations: Waiting[]): Waiting[] {
  const other = operations.findIndex((op) => op.clock_offset_ms !== operations[0]?.clock_offset_ms);
  return other < 0 ? operations : operations.slice(0, other);
}

/** The first of these operations, as far as they have no more bytes together; one at the least. */
function withinBytes(operations: Waiting[], most: number): Waiting[] {
  const encoder = new TextEncoder();
  let bytes = 0;
  const over = operations.findIndex((op, index) => {
    bytes += encoder.encode(JSON.stringify(bare(op))).length + 1;
    return index > 0 && bytes > most;
  });
  return over < 0 ? operations : operations.slice(0, over);
}

/**
 * Move answered operations out of the outbox, to those that stay here until they are safe. A kept one is folded into
 * the stored record at once, as the office ruled, so that no screen falls back before the feed has brought it; a
 * refused one stands in the list that a person must look at as well, and so does one that was kept without its words.
 * One that waits stays, with what it waits for.
 */
export function settle(answers: Answer[]) {
  return write(["outbox", "answered", "refused", "record"], async (tx) => {
    for (const answer of answers) {
      const op = await tx.waitingAs(answer.operation_id);
      if (!op) continue; // settled before, by an earlier try
      if (answer.outcome === "waiting") await stillWaits(tx, op, answer.problem ?? UNSAID);
      else await settleOne(tx, op, answer.outcome, answer);
    }
  });
}

async function stillWaits(tx: Writing, op: Waiting, waits: Problem) {
  if (op.waits?.detail !== waits.detail) await tx.put("outbox", { ...op, waits });
}

async function settleOne(tx: Writing, op: Waiting, outcome: "kept" | "refused", answer: Answer) {
  const { again, waits, ...rest } = op;
  const without_words = outcome === "kept" && Boolean(answer.problem);
  if (outcome === "kept") {
    if (again === "refused") await noLongerRefused(tx, op);
    if (without_words) await toLookAt(tx, op, answer.problem ?? UNSAID, { kept: true });
    else if (again !== "kept") {
      const ruled = { ...op, ...answer.ruled };
      const result = applyOperation((await tx.get("record", op.record_id)) ?? null, ruled);
      if ("record" in result) await tx.put("record", result.record);
    }
  } else if (again !== "refused") await toLookAt(tx, op, answer.problem ?? UNSAID);
  const office_seq = answer.office_seq ?? 0;
  const answered = { ...rest, outcome, office_seq, ...(without_words && { without_words }) };
  await tx.put("answered", answered as Answered);
  await tx.delete("outbox", op.device_seq);
}

/** What was said of a refusal that is over. */
const TAKEN: Problem = {
  code: "taken_since",
  title: "Taken as it was first said",
  detail: "The office had refused this, and has taken it now.",
  hint: "What you were putting in its place is still here.",
};

/** It leaves the list of those that a person must look at, unless somebody is at work on it. */
async function noLongerRefused(tx: Writing, op: Waiting) {
  const shown = await tx.get("refused", op.operation_id);
  if (shown?.correction === undefined) await tx.delete("refused", op.operation_id);
  else await tx.put("refused", { ...shown, kept: true, problem: TAKEN });
}

/** Put an operation on the list of those that a person must look at, with what is wrong. */
export function toLookAt(tx: Writing, op: Waiting, problem: Problem, more: { kept?: true } = {}) {
  const { operation_id, clock_offset_ms, taken_once } = op;
  const refused_at = new Date().toISOString();
  return tx.put("refused", {
    operation_id,
    operation: bare(op),
    problem,
    refused_at,
    clock_offset_ms,
    taken_once,
    ...more,
  });
}

/** A person has read what was kept without its words or refused, and has nothing to add or put in its place. */
export function setAside({ operation_id }: Refused) {
  return write(["refused"], (tx) => tx.delete("refused", operation_id));
}

/**
 * Keep what somebody is putting in the place of what an operation says, as they type it; none if that is what it says.
 * True if it is still there to be corrected, as they see it: its words may have been erased meanwhile.
 */
export function correct(refusal: Refused, text: string, correction: string): Promise<boolean> {
  return write(["refused"], async (tx) => {
    const found = await tx.get("refused", refusal.operation_id);
    if (!found || !same(found.operation, refusal.operation)) return false;
    const { correction: _, ...rest } = found;
    await tx.put("refused", correction === text ? rest : { ...rest, correction });
    return true;
  });
}

/** Whether some of what a person must look at is nowhere else: the office has no correction, nor what is too large. */
export function isOnlyHere({ problem, correction }: Refused): boolean {
  return correction !== undefined || problem.code === "too_large";
}

/** Refusals of whoever made an operation, which another person may say in their own name. */
const ABOUT_THE_PERSON: ReadonlySet<string> = new Set(["person_not_on_day", "hat_does_not_fit"]);

/** Whether a refused operation may be said by whoever is at this device, who is not the one that made it. */
export function mayBeSaidBy(person_id: string | undefined, { operation, problem }: Refused) {
  return ABOUT_THE_PERSON.has(problem.code) && Boolean(person_id) && person_id !== operation.made_by;
}

/**
 * Send a refused operation again, corrected or as it was: a new operation; the refused one is let go of in the same
 * transaction. It stays the word of whoever made it, of the time when they did. `saidNow`: whoever is at this device
 * says it in their own name, and so it is theirs, of now. True if it is still there as they see it: it may have gone
 * with an earlier tap, have been taken, or have lost its words.
 */
export function sendAgain(
  again: Refused,
  changes: object,
  { saidNow = Boolean(again.kept) } = {},
): Promise<boolean> {
  return write(["refused", "outbox", "setting"], async (tx) => {
    const found = await tx.get("refused", again.operation_id);
    if (!found || found.kept !== again.kept || !same(found.operation, again.operation)) return false;
    await sendAnew(tx, found, changes, saidNow);
    return true;
  });
}

/**
 * The same within a transaction; the id of the new operation. Where the office has taken it, what is said now goes on
 * from that.
 */
export async function sendAnew(
  tx: Writing,
  again: Refused,
  changes: object,
  saidNow = false,
): Promise<string> {
  const device = await tx.setting("device");
  const fresh = { operation_id: newId(), device_seq: await nextSeq(tx) };
  const clock_offset_ms = saidNow ? device?.clock_offset_ms : again.clock_offset_ms;
  const author = saidNow ? { made_at: nowBy(clock_offset_ms), made_by: device?.person_id ?? "" } : {};
  const salt = again.kept || again.erased ? { salt: newSalt() } : {};
  const seen = again.kept && "seen" in again.operation ? { seen: again.operation_id } : {};
  const operation = { ...again.operation, ...author, ...salt, ...seen, ...fresh, ...changes } as Operation;
  const record_id = recordIdOf(operation);
  const { taken_once } = again;
  await tx.put("outbox", { ...operation, record_id, attempted: false, clock_offset_ms, taken_once });
  await tx.delete("refused", again.operation_id);
  return fresh.operation_id;
}
