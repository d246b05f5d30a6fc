/**
 * What a full phone can do with what the office tells: it stores none of it, and letting go needs no room. This page
 * shows what was told, and what may be here no longer leaves the disk. What was stopped meanwhile stands beside the
 * database as well: the browser counts that room by itself, and a page that is opened anew with no network shows it.
 */

import { isStopped } from "../job/cautions.ts";
import { standingIncidents } from "../job/incidents.ts";
import { isOfOwner, withoutOwnersWords } from "../job/owners_words.ts";
import type { RecordCopy } from "../job/types.ts";
import { storedCopy } from "./assembled.ts";
import { write } from "./changes.ts";
import { isPhoneFull, transact } from "./database.ts";
import {
  deleteAllButOwed,
  deleteAllOf,
  deleteWhatIsNotOwed,
  letGoOfOtherDays,
  scopeOf,
  takeUpWork,
} from "./day.ts";
import { dayOfWork, type ThisDevice } from "./device.ts";
import type { Erasure } from "./erasures.ts";
import { dropFormsOf } from "./held.ts";
import { apply, load, loadAgain } from "./load.ts";
import { device, erasedHere, erasures, shown } from "./memory.ts";
import { daysOwed } from "./owed_count.ts";
import { forgetPicturesBut } from "./pictures_ahead.ts";

const BESIDE = "told on a full phone";
type Beside = { scope: string; records: RecordCopy[] };

/** What was told since the phone is full, and is not on its disk; and for which work. */
const told = new Map<string, RecordCopy>();
let toldFor = "";

/**
 * Show what was told. Where the copy here has words of an owner that are told no longer, it leaves the disk, and comes
 * anew when there is room; what is owed of it has its own words, and stays to be sent. How many went.
 */
export async function showUnkept(scope: string, records: readonly RecordCopy[]): Promise<number> {
  const says = ({ fields }: RecordCopy, name: string) => Boolean(fields[name]?.value); // erased ones are told as ""
  const goes = (before: RecordCopy, now: RecordCopy) =>
    before.kind !== "day" &&
    Object.keys(before.fields).some((name) => isOfOwner(name) && says(before, name) && !says(now, name));
  const byId = new Map(records.map((now) => [now.record_id, now]));
  const gone = await deleteAllOf((before) => {
    const now = byId.get(before.record_id);
    return now !== undefined && goes(before, now);
  });
  toldFor = scope;
  for (const record of records) told.set(record.record_id, record);
  noteStopped();
  showAgain();
  return gone;
}

function showAgain() {
  const isNewer = ({ record_id, office_seq }: RecordCopy) =>
    (storedCopy(record_id)?.office_seq ?? 0) <= (office_seq ?? 0);
  const records = [...told.values()].filter(isNewer);
  apply(records.map((value) => ({ store: "record", key: value.record_id, value })));
}

/** Nobody is to touch it, or something on the day may hurt somebody. */
const isOfStop = (record: RecordCopy) =>
  record.kind === "day" ? standingIncidents(record).length > 0 : record.kind === "item" && isStopped(record);

function noteStopped() {
  const records = [...told.values()].filter(isOfStop).map((record) => withoutOwnersWords(record));
  if (!records.length) return localStorage.removeItem(BESIDE);
  const beside: Beside = { scope: toldFor, records };
  try {
    localStorage.setItem(BESIDE, JSON.stringify(beside));
  } catch {
    // Nothing at all can be written: it shows for as long as this page is open.
  }
}

/** All that was told stands on the disk, or this device may show it no longer: from now on it shows what is there. */
export async function showAsKept() {
  localStorage.removeItem(BESIDE);
  const ids = [...told.keys()];
  told.clear();
  if (!ids.length) return;
  const kept = await transact(["record"], "readonly", (tx) =>
    Promise.all(ids.map((id) => tx.objectStore("record").get(id))),
  );
  apply(ids.map((key, index) => ({ store: "record", key, value: kept[index] })));
}

/** Whether this device does other work by now than that for which it was told something. */
export function isToldForOtherWork({ revoked, ...known }: ThisDevice): boolean {
  return told.size > 0 && (Boolean(revoked) || scopeOf(known) !== toldFor);
}

/** What was stopped while an earlier page could not store it; nothing of other work than this device does now. */
export async function showStoppedBefore() {
  await load();
  const written = localStorage.getItem(BESIDE);
  const known = device.peek();
  if (!written || !known) return;
  const { scope, records } = JSON.parse(written) as Beside;
  if (known.revoked || scope !== scopeOf(known)) return localStorage.removeItem(BESIDE);
  toldFor = scope;
  for (const record of records) told.set(record.record_id, record);
  showAgain();
}

const TAKEN_OFF = "taken off while full";

/** The office has signed this device off, which it cannot store: this page shows it, and so does one opened anew. */
export function showTakenOff() {
  const known = device.peek();
  if (!known) return;
  apply([{ store: "setting", key: "device", value: { ...known, revoked: true } }]);
  try {
    localStorage.setItem(TAKEN_OFF, known.device_id);
  } catch {
    // Nothing at all can be written: it shows for as long as this page is open.
  }
}

/** It is stored by now. */
export function forgetTakenOff() {
  localStorage.removeItem(TAKEN_OFF);
}

export async function showTakenOffBefore() {
  await load();
  if (localStorage.getItem(TAKEN_OFF) === device.peek()?.device_id) showTakenOff();
}

/**
 * A round went as it should: what stands on the disk holds, once that can be told to read all anew of which this device
 * let go. Whether that is to be read.
 */
export async function dropTakenOff(): Promise<boolean> {
  if (localStorage.getItem(TAKEN_OFF) === null) return false;
  await takeUpWork({ revoked: false });
  forgetTakenOff();
  return true;
}

/**
 * Other work was given to this device, which it cannot store: what may not be here for it leaves the disk, and from now
 * on this page does it. One that is opened anew learns of it again.
 */
export async function showOtherWork(paired: Partial<ThisDevice>) {
  await forgetPicturesBut([]);
  await deleteAllButOwed();
  const known = device.peek();
  if (!known) return;
  const now = { ...known, ...paired, cursor: 0 };
  apply([{ store: "setting", key: "device", value: { ...now, scope: scopeOf(now) } }]);
}

/** A page that was frozen reads its disk anew, where none of it stands. */
export function showAgainWhenRead() {
  document.addEventListener("resume", () => loadAgain().then(showAgain));
}

/** By record, how many times its erasure was heard while the phone is full: what is typed after it stays. */
const heard = new Map<string, number>();

/**
 * Copies of a visit of whom asked for their erasure, and of its things, leave the disk; what is owed of them has its
 * own words, and stays to be sent. So do forms about that owner, and entries that a desk keeps. What was told of them
 * since shows on.
 */
export async function dropErasedHere(all: readonly Erasure[]) {
  const times = new Map<string, number>();
  for (const { record_id } of all) times.set(record_id, (times.get(record_id) ?? 0) + 1);
  const before = (id: string) => Math.max(heard.get(id) ?? 0, erasures.peek()[id]?.times ?? 0);
  const fresh = [...times.keys()].filter((id) => (times.get(id) ?? 0) > before(id));
  if (!fresh.length) return;
  const things = [...shown.values()].flatMap((one) => {
    const of = one.peek();
    return of?.kind === "item" && fresh.includes(of.visit_id) ? [`${of.record_id} told_words`] : [];
  });
  await write(["held", "setting"], async (tx) => {
    await dropFormsOf(tx, [...fresh, ...things]);
    for (const item_id of (await tx.setting("opened")) ?? []) {
      const opened = await tx.setting(`entry ${item_id}`);
      if (opened?.record_ids.some((id) => fresh.includes(id))) await tx.delete("setting", `entry ${item_id}`);
    }
  });
  const isTheirs = (of: RecordCopy) =>
    fresh.includes(of.record_id) || (of.kind === "item" && fresh.includes(of.visit_id));
  if (await deleteAllOf(isTheirs)) showAgain();
  for (const id of fresh) heard.set(id, times.get(id) ?? 0);
  if (fresh.some((id) => shown.get(id)?.peek())) erasedHere.value += 1;
}

/**
 * The day of work is over: its records leave the disk, but for what is owed. Those of which nothing is kept here go
 * first, since the rest may go as it should by the room that they leave. How many went.
 */
export async function deleteDayOver(office_time: string): Promise<number> {
  const known = device.peek();
  if (!known) return 0;
  const works_on = dayOfWork(known);
  if (daysOwed().has(works_on)) return 0; // a count of it is not recorded yet
  const isOfDay = ({ kind, day_id }: RecordCopy) => kind !== "day" && day_id === works_on;
  await forgetPicturesBut([]);
  const answered = await transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());
  const before = await deleteWhatIsNotOwed(isOfDay, new Set(answered.map(({ record_id }) => record_id)));
  await showAsKept();
  try {
    return before + (await letGoOfOtherDays(true, office_time));
  } catch (error) {
    if (!isPhoneFull()) throw error;
    return before + (await deleteAllOf(isOfDay));
  }
}
