/**
 * What the office has answered and this device keeps all the same: operations, small pictures and originals stay until
 * they stand in a second place, so that an office which lost something can be made whole from here.
 */
import type { Kept } from "../job/kept_words.ts";
import type { BodyOf, OfficeStanding } from "../job/types.ts";
import { type Writing, write } from "./changes.ts";
import { noteClosings, unheard } from "./closings.ts";
import { type Answered, type Erasures, type Forgotten, type Met, transact } from "./database.ts";
import { office, photos, record, shown } from "./memory.ts";
import { openedRecords } from "./opened.ts";

const DAY_MS = 24 * 3600 * 1000;
/** How long after the closing of its day was heard an operation stays if the office has no second place. */
const KEPT_DAYS = 30;
const AT_ONCE = 500;
/** Photos that are asked for in turn each round: 5,000 take about an hour of rounds, and a round asks 1.3 kB more. */
const IN_TURN = 20;
/** Room that is left to the phone, if there is so much: bytes, and as a share of what the app may use. */
const ROOM_BYTES = 500_000_000;
const ROOM_SHARE = 0.15;

/**
 * What this device says that it was told last, so that the office answers with its log's value there, and the proofs:
 * of that, and of what it was told before the office was found to lack something. An office that was put back twice
 * has forgotten that it was waited for.
 */
export type Asked = { known_seq: number; known_chain: string; proof: string; before_loss: string };

export function toldLast(): Asked {
  const { office_seq = 0, chain = "", proof = "", before_loss = "" } = office.peek() ?? {};
  return {
    known_seq: office_seq,
    known_chain: office_seq ? chain : "",
    proof,
    before_loss: before_loss === proof ? "" : before_loss,
  };
}

/**
 * Hear where the office stands. True if it has lost something: then all is made ready, in one transaction, to be read
 * anew and to be sent again; nothing that is here is let go of.
 */
export async function meet(stands: OfficeStanding, asked: Asked): Promise<boolean> {
  if (isSame(office.peek(), stands)) return false;
  return write(["setting", "outbox", "answered", "photo", "record"], async (tx) => {
    const device = await tx.setting("device");
    if (!device) return false;
    const before = await tx.setting("office");
    const why = whyOtherOffice(before, device.epoch, stands, asked);
    await tx.remember("office", { ...stands, before_loss: beforeLoss(before, stands, why !== null) });
    if (!why) {
      if (!device.epoch) await tx.remember("device", { ...device, epoch: stands.epoch });
      return false;
    }
    const operations = await sendAgain(tx);
    for (const photo of await tx.photos())
      if (photo.at_office && !photo.freed) await tx.put("photo", { ...photo, unsure: true });
    await tx.remember("closings", unheard((await tx.setting("closings")) ?? {}));
    await tx.remember("erasures", untold((await tx.setting("erasures")) ?? {}));
    await tx.remember("device", { ...device, epoch: stands.epoch, cursor: 0 });
    const records = await tx.records();
    const lent = await openedRecords(tx); // a desk's entries are asked for again as they are opened
    for (const record of records)
      if (lent.has(record.record_id)) await tx.put("record", { ...record, office_seq: 0 });
    await tx.remember("forgotten", {
      noticed_at: new Date().toISOString(),
      why,
      operations,
      done_at: null,
      lacks: records.map(({ record_id }) => record_id).filter((id) => !lent.has(id)),
    });
    return true;
  });
}

/**
 * Whether the office stands where it stood. `known_chain` answers the question that was asked, a proof differs by its
 * time: neither says anything of that.
 */
function isSame(before: Met | null, stands: OfficeStanding) {
  const bare = ({ known_chain: _, proof: __, before_loss: ___, ...rest }: Met) => JSON.stringify(rest);
  return before !== null && bare(before) === bare(stands);
}

/** The proof of what was told when the office was whole for the last time, as far as anybody knows. */
export function beforeLoss(before: Met | undefined, stands: OfficeStanding, isLost: boolean): string {
  return isLost || stands.hearing ? before?.before_loss || before?.proof || "" : stands.proof;
}

/** Why the office cannot be as it was when it was heard last; null if it can. */
export function whyOtherOffice(
  before: Met | undefined,
  epoch: string,
  stands: OfficeStanding,
  asked: Asked,
): Forgotten["why"] | null {
  if (epoch && epoch !== stands.epoch) return "another office";
  if (!before) return null;
  if (stands.office_seq < before.office_seq || stands.device_seq < before.device_seq) return "older";
  return asked.known_seq && stands.known_chain !== asked.known_chain ? "another log" : null;
}

/** What was erased, none of it told by the office as it is now. */
export function untold(erasures: Erasures): Erasures {
  const entries = Object.entries(erasures);
  return Object.fromEntries(entries.map(([id, erasure]) => [id, { ...erasure, at_office: false }]));
}

/**
 * Put all that was answered back into the outbox, in its old place; how many these are. What the office has may stand
 * there under other numbers, of which its copies may lack some: until it is answered again nothing of it is safe.
 */
async function sendAgain(tx: Writing): Promise<number> {
  const held = await tx.answered();
  for (const { outcome, office_seq: _, ...op } of held) {
    const taken_once = outcome === "kept" || op.taken_once;
    await tx.put("outbox", { ...op, attempted: true, again: outcome, taken_once } as never);
    await tx.delete("answered", op.device_seq);
  }
  return held.length;
}

/** All was read anew and sent again. */
export function madeWhole() {
  return write(["setting"], async (tx) => {
    const forgotten = await tx.setting("forgotten");
    if (forgotten && forgotten.done_at === null)
      await tx.remember("forgotten", { ...forgotten, done_at: new Date().toISOString() });
  });
}

/**
 * Let go of operations that are safe: the oldest first, and none behind one that is not, so that what is left is all
 * that was made from some point on. `office_time`: the office's clock in an answer of this round, empty if there was
 * none. `settled`: the days of which the office itself says that they were closed so long ago.
 */
export async function letGoOfAnswered(office_time: string, settled: readonly string[] = []) {
  const stands = office.peek();
  if (!stands) return;
  const isSafe =
    stands.safe_seq === null ? await isLongClosed(office_time, settled) : isCopied(stands.safe_seq);
  for (let more = true; more; )
    more = await write(["answered"], async (tx) => {
      const oldest = await tx.answered(AT_ONCE);
      const held = oldest.findIndex((op) => !isSafe(op));
      const going = held < 0 ? oldest : oldest.slice(0, held);
      for (const op of going) await tx.delete("answered", op.device_seq);
      return going.length === AT_ONCE;
    });
}

type IsSafe = (op: Answered) => boolean;

function isCopied(safe_seq: number): IsSafe {
  return ({ office_seq }) => office_seq <= safe_seq;
}

/**
 * With no second place: whether the day of an operation was closed so long ago. Only the office's clock counts it, from
 * when this device first heard of the closing: a phone's may be months off, the one that closed the day as well as
 * this.
 */
async function isLongClosed(office_time: string, settled: readonly string[]): Promise<IsSafe> {
  const now = Date.parse(office_time);
  if (Number.isNaN(now)) return () => false;
  const closings = await write(["record", "setting"], (tx) => noteClosings(tx, office_time));
  return (op) => {
    const heard_at = closings[dayOf(op)]?.heard_at;
    const isLong = heard_at !== undefined && Date.parse(heard_at) + KEPT_DAYS * DAY_MS < now;
    return isLong || settled.includes(dayOf(op));
  };
}

function dayOf({ record_id, of_day }: Answered): string {
  return of_day ?? record(record_id)?.day_id ?? "";
}

/** The days of what was answered and is kept here. */
export async function daysOfAnswered(): Promise<string[]> {
  const answered = await transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());
  return [...new Set(answered.map(dayOf))].filter(Boolean);
}

/** Photos that the office has, and whose bytes are here, the longest confirmed first. */
function confirmedHere() {
  return photos
    .peek()
    .filter(({ at_office, is_thumb, freed }) => at_office && !is_thumb && !freed)
    .sort((a, b) => (a.confirmed_at ?? "").localeCompare(b.confirmed_at ?? ""));
}

/**
 * The photos of which the office is to be asked: whether it still has them, and whether they are safe.
 *
 * Some are asked for in turn, each round: a folder that is put back may have lost photos alone, of which neither chain
 * nor number says anything, and a picture may rot on the office's disk.
 */
export function photosToAskFor(): string[] {
  const unsure = photos.peek().filter((photo) => photo.unsure);
  const held = office.peek()?.safe_seq ? confirmedHere() : [];
  const asked = [...unsure, ...held].map(({ sha256 }) => sha256);
  return [...new Set([...asked.slice(0, AT_ONCE - IN_TURN), ...inTurn()])];
}

let askedLast = "";

/** The next few of those that are here and, for all this device knows, at the office. */
function inTurn(): string[] {
  const held = photos.peek().filter(({ at_office, freed }) => at_office && !freed);
  const all = held.map(({ sha256 }) => sha256).sort();
  const first = Math.max(
    0,
    all.findIndex((sha256) => sha256 > askedLast),
  );
  const next = [...all.slice(first), ...all.slice(0, first)].slice(0, IN_TURN);
  askedLast = next.at(-1) ?? "";
  return next;
}

/**
 * The office has said which of these photos it has, and which stand in every second place: the bytes of those go, of
 * small ones once no record here shows them, before anything is written. A full phone can let go of something in a
 * transaction of its own, and write nothing until then.
 *
 * A photo that was to be marked as let go of and was not, since the app ended between the two, has no bytes here.
 */
export async function photosStand(
  asked: string[],
  here: ReadonlySet<string>,
  copied: ReadonlySet<string>,
): Promise<void> {
  const twice = asked.filter((sha256) => here.has(sha256) && copied.has(sha256));
  const thumbs = new Set(photos.peek().flatMap(({ sha256, is_thumb }) => (is_thumb ? [sha256] : [])));
  const stay = twice.some((sha256) => thumbs.has(sha256)) ? thumbsOfRecords() : thumbs;
  await letGoOfBytes(twice.filter((sha256) => !thumbs.has(sha256) || !stay.has(sha256)));
  await write(["photo", "photo_bytes"], async (tx) => {
    for (const sha256 of asked) {
      const photo = await tx.get("photo", sha256);
      if (!photo) continue;
      const { unsure, ...rest } = photo;
      if (!(await tx.has("photo_bytes", sha256))) await tx.put("photo", { ...rest, freed: true });
      else if (!here.has(sha256)) await tx.put("photo", { ...rest, at_office: false });
      else if (unsure) await tx.put("photo", rest);
    }
  });
}

/** The small pictures that records on this device show; those of a day that has left it are shown by nobody. */
function thumbsOfRecords(): ReadonlySet<string> {
  const found = new Set<string>();
  for (const { value } of shown.values())
    for (const [name, field] of Object.entries(value?.fields ?? {}))
      if (name.startsWith("photos/")) found.add((field.value as BodyOf<"attach_photo">).thumb_sha256);
  return found;
}

/** In a transaction in which nothing is stored: it goes through on a phone that is full. */
async function letGoOfBytes(going: string[]) {
  if (!going.length) return;
  await write(["photo_bytes"], async (tx) => {
    for (const sha256 of going) await tx.delete("photo_bytes", sha256);
  });
}

/**
 * Let go of originals that the office has, the longest confirmed first, as far as room is short; only while the office
 * has no second place. Whether that made any room. `needed`: bytes that are to be stored now.
 */
export async function makeRoom(needed = 0): Promise<boolean> {
  if (office.peek()?.safe_seq !== null) return false;
  const { quota = 0, usage = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  let short = needed || Math.min(ROOM_BYTES, quota * ROOM_SHARE) - (quota - usage);
  const going = confirmedHere().filter(({ size, unsure }) => {
    const goes = short > 0 && !unsure;
    if (goes) short -= size;
    return goes;
  });
  if (!quota && !needed) return false; // the browser does not say
  if (!going.length) return false;
  await letGoOfBytes(going.map(({ sha256 }) => sha256));
  await write(["photo"], async (tx) => {
    for (const photo of going) await tx.put("photo", { ...photo, freed: true });
  });
  return true;
}

export async function keptHere(): Promise<{ operations: Kept; originals: Kept; thumbs: Kept }> {
  const operations = await transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());
  const thumbs = photos.peek().filter(({ at_office, is_thumb, freed }) => at_office && is_thumb && !freed);
  return {
    operations: { count: operations.length, bytes: JSON.stringify(operations).length },
    originals: sumOf(confirmedHere()),
    thumbs: sumOf(thumbs),
  };
}

function sumOf(held: { size: number }[]): Kept {
  return { count: held.length, bytes: held.reduce((sum, { size }) => sum + size, 0) };
}
