/**
 * Forms that somebody is half-way through, and keys whose saving was cut off.
 *
 * A page may be killed at any moment, and IndexedDB answers some milliseconds later. So each key is first written into
 * a journal, before its event ends: localStorage is the one store that takes it at once. From there it moves into the
 * database, with the work that it belongs to, and leaves the journal; with that work it leaves the device, or as the
 * words of the owner whom it is about are erased.
 */
import { type Writing, write } from "./changes.ts";
import type { HeldForm } from "./database.ts";
import { dayOfWork } from "./device.ts";
import { load } from "./load.ts";
import { device, held } from "./memory.ts";
import { dropUnsentOf, keepUnsent } from "./unsent.ts";

const JOURNAL = "journal ";
/** Stands in the journal for a form that was let go of, until the database has heard it. No JSON is empty. */
const LET_GO = "";
/** How often each form is being written into the database now. */
const onTheirWay = new Map<string, number>();

/** What was entered into a form before; undefined if nothing was. The journal is newer than the database. */
export function enteredIn(name: string): unknown {
  const written = localStorage.getItem(JOURNAL + name);
  if (written === LET_GO) return undefined;
  return written === null ? held.get(name)?.entered : JSON.parse(written);
}

/** Write into the journal, before the event that brought it ends. */
export function enterInJournal(name: string, entered: unknown) {
  try {
    localStorage.setItem(JOURNAL + name, JSON.stringify(entered));
  } catch {
    // It is full: what saves it in the database says so.
  }
}

/** The fields of a form that are otherwise now than when it was sent; undefined if none is. */
export function enteredSince<Form extends object>(sent: Form, now: Form): Partial<Form> | undefined {
  const names = Object.keys(now) as (keyof Form)[];
  const since = names.filter((name) => JSON.stringify(now[name]) !== JSON.stringify(sent[name]));
  if (!since.length) return undefined;
  return Object.fromEntries(since.map((name) => [name, now[name]])) as Partial<Form>;
}

/** It is kept elsewhere, or let go of. */
export function strikeFromJournal(name: string) {
  localStorage.removeItem(JOURNAL + name);
}

/** Move what the journal says of a form into the database; what was entered meanwhile stays in the journal. */
export async function holdForm(name: string) {
  const written = localStorage.getItem(JOURNAL + name);
  if (written === null) return;
  const known = device.peek();
  const of = { day_id: known ? dayOfWork(known) : "", role: known?.role };
  onTheirWay.set(name, (onTheirWay.get(name) ?? 0) + 1);
  try {
    await write(["held"], (tx) =>
      written === LET_GO
        ? tx.delete("held", name)
        : tx.put("held", { name, ...of, entered: JSON.parse(written) }),
    );
  } finally {
    onTheirWay.set(name, (onTheirWay.get(name) ?? 1) - 1);
  }
  if (localStorage.getItem(JOURNAL + name) === written) strikeFromJournal(name);
}

/**
 * Let go of a form: it has become an operation. A page killed in the next moment does not bring it back: the journal
 * has it before this function first waits. A form that is on its way into the database is let go of behind that.
 */
export async function dropForm(name: string) {
  if (!held.has(name) && !onTheirWay.get(name)) return strikeFromJournal(name);
  localStorage.setItem(JOURNAL + name, LET_GO); // shorter than what stood there, so that there is room for it
  await holdForm(name);
}

/** Once at the start: what a killed page has left in the journal is held with the rest. */
export async function emptyJournal() {
  await load();
  for (const name of inJournal()) await holdForm(name);
}

/** The names of all forms that something was entered into and that begin so. */
export function namesEntered(start: string): string[] {
  const names = new Set([...held.keys(), ...inJournal()]);
  return [...names].filter((name) => name.startsWith(start));
}

function inJournal(): string[] {
  const names = Object.keys(localStorage).filter((name) => name.startsWith(JOURNAL));
  return names.map((name) => name.slice(JOURNAL.length));
}

/** Let go of the forms that have any of these in their names, held and in the journal: what they are of was erased. */
export async function dropFormsOf(tx: Writing, ids: readonly string[]) {
  const goes = (name: string) => ids.some((id) => name.includes(id));
  for (const name of inJournal().filter(goes)) strikeFromJournal(name);
  for (const name of [...held.keys()].filter(goes)) await tx.delete("held", name);
  await dropUnsentOf(tx, ids);
}

/**
 * Let go of held forms that this device may hold no longer. Words that were typed into them are nowhere else: they stay
 * to be read (unsent.ts). To be asked before their records leave, by which they are named.
 */
export async function letGoOfForms(tx: Writing, goes: (form: HeldForm) => boolean) {
  for (const form of [...held.values()].filter(goes)) {
    await keepUnsent(tx, form);
    await tx.delete("held", form.name);
  }
}
