/**
 * The day that this device holds, and nothing beside it but, on a porter's, the days of which something is on its way
 * still (`awaits`) or in a count that is not recorded; a desk has no day and holds what it opened last. What it may
 * hold no longer leaves it: the records of a day that is over or was left for another, those that its new work does not
 * need, all of them once it was signed off. What it owes stays until it is sent, and what the office has in one place
 * only stays as keeping.ts says.
 */
import type { Whereabouts } from "../job/fields.ts";
import { isOfOwner, withoutOwnersWords } from "../job/owners_words.ts";
import type { FieldValue, RecordCopy } from "../job/types.ts";
import { storedCopies } from "./assembled.ts";
import { type Writing, write } from "./changes.ts";
import { noteClosings } from "./closings.ts";
import { type HeldForm, isPhoneFull, type Left } from "./database.ts";
import { asksTheOffice, dayOfWork, daysAwaited, rememberDevice, type ThisDevice } from "./device.ts";
import { emptyJournal, letGoOfForms } from "./held.ts";
import { device, held, record, records, unsent } from "./memory.ts";
import { forgetOpened, openedRecords } from "./opened.ts";
import { countOf, daysCounting, daysOwed, owedCount } from "./owed_count.ts";
import { forgetPicturesBut } from "./pictures_ahead.ts";
import { dropUnsentOf, isOfClosing } from "./unsent.ts";

/** What a device holds depends on these. */
export function scopeOf(device: ThisDevice): string {
  return [device.role, dayOfWork(device), device.table_id, ...daysAwaited(device)].join(" ");
}

/** Do other work from now on, or on another day: what was typed so far is held as of the work before. */
export async function takeUpWork(patch: Partial<ThisDevice>): Promise<void> {
  await emptyJournal().catch(() => {}); // on a full phone it stays in the journal
  const isOther = patch.role !== undefined && patch.role !== device.peek()?.role;
  // One that is paired reads all anew: a full phone that was signed off let go of more than it could note.
  const seat = isOther ? { table_id: "" } : {}; // which was of the work before
  await rememberDevice("revoked" in patch ? { ...seat, ...patch, ...ANEW } : { ...seat, ...patch });
  // What it may read as that comes with the feed, which may be long in coming.
  if (isOther && "revoked" in patch) await write(["record"], async (tx) => void (await dropOwnersWords(tx)));
}

/**
 * Work on another day: whoever is at this device stays, if that day's list has them; its tables are others. Of a day
 * that is closed what is not owed leaves at once, and owners' words of what is: the feed that would say so may be long
 * in coming. Not while a count is begun and not recorded: it would be lost, and what was scanned would stand in the van
 * for ever. It throws, and says what is owed.
 */
export async function workOnDay(day_id: string): Promise<void> {
  const { person_id = "", day_id: before = "" } = device.peek() ?? {};
  if (day_id === before) return;
  checkNoneOwed(day_id);
  const isOver = Boolean(record(before)?.fields.closed);
  const isOnIt = Boolean(record(day_id)?.fields[`people/${person_id}`]);
  const awaits = [before, ...(device.peek()?.awaits ?? [])].filter((id) => id !== day_id && isOnItsWay(id));
  await takeUpWork({ day_id, table_id: "", awaits, ...(isOnIt ? {} : { person_id: "" }) });
  if (!isOver) return;
  await letGoOfOtherDays(false, "");
  await write(["record"], async (tx) => void (await dropOwnersWords(tx)));
}

/** Throws if a count is begun and not recorded, and says which; not if it is counted on the day that is gone to. */
export function checkNoneOwed(goes_to = "") {
  const [counted] = daysCounting().filter((day_id) => day_id !== goes_to);
  const owed = counted !== undefined && owedCount(counted);
  if (owed)
    throw new Error(`A count is open here, ${owed}. Record it under Porter first; then work on another day.`);
}

/** Whether something of a day stands in the van. How long it stays once that came, the office says (`days_awaited`). */
function isOnItsWay(of_day: string) {
  const isInVan = ([name, field]: [string, FieldValue]) =>
    name.startsWith("whereabouts") && (field.value as Whereabouts).to_place === "van";
  const things = (["item", "container"] as const).flatMap((kind) => records(kind, of_day) ?? []);
  return things.some(({ fields }) => Object.entries(fields).some(isInVan));
}

/** What a full phone let go of, and could not note beside its place in the feed: the browser counts this by itself. */
const LET_GO = "let go while full";

/** Whether this device holds less than its place in the feed says. */
export function holdsLess(): boolean {
  return localStorage.getItem(LET_GO) !== null;
}

/**
 * Before the feed is read: a device that does other work now, or on another day, or let go of what it could not note,
 * reads it from its start.
 */
export async function beginReading(): Promise<void> {
  const known = device.peek();
  if (!known || (known.scope === scopeOf(known) && !holdsLess())) return;
  await write(["setting"], async (tx) => {
    const now = await tx.setting("device");
    if (!now) return;
    if (!asksTheOffice(now)) await dropOfDesk(tx);
    await tx.remember("device", { ...now, scope: scopeOf(now), cursor: 0 });
  });
  localStorage.removeItem(LET_GO);
}

/** What a desk alone keeps: the entries opened last, and filters, which may hold an owner's name. */
async function dropOfDesk(tx: Writing) {
  if ((await tx.setting("opened"))?.length) await forgetOpened(tx);
  for (const name of ["saved filters", "filters erased"] as const)
    if (await tx.has("setting", name)) await tx.delete("setting", name);
}

/**
 * What stays, for what it is still owed to the office: the records that wait or were refused, and what they stand in.
 */
async function owed(tx: Writing): Promise<Set<string>> {
  const ids = [...(await tx.oldest()), ...(await tx.refusedOperations())].map(({ record_id }) => record_id);
  const stays = new Set(ids);
  for (const id of ids) {
    const of = await tx.get("record", id);
    if (!of) continue;
    stays.add(of.day_id);
    if (of.kind === "item") stays.add(of.visit_id);
  }
  return stays;
}

/**
 * Once the feed is read to its end: let go of the records that do not belong to this device's day, and of that day
 * itself if it is over. No day goes of which something is in a count that is not recorded. How many went, or their
 * owner's words. `office_time`: the office's clock as it said so.
 */
export async function letGoOfOtherDays(isOver: boolean, office_time: string): Promise<number> {
  const known = device.peek();
  if (!known) return 0;
  const works_on = dayOfWork(known);
  const counted = daysOwed();
  const dayIsOver = isOver && !counted.has(works_on);
  await letGoOfOtherForms(dayIsOver);
  const awaited = daysAwaited(known);
  const isAwaited = awaited.includes(works_on);
  const stays = new Set([...awaited, ...counted]);
  const gone = await letGo(dayIsOver ? "over" : "another day", office_time, ({ kind, day_id, closed }) =>
    stays.has(day_id) ? false : day_id === works_on ? dayIsOver : kind !== "day" || closed,
  );
  // The office's clock was wrong, or the day was moved: what left is read once more.
  if (!isOver && known.day_left && known.day_left === works_on)
    await rememberDevice({ ...ANEW, day_left: "" });
  // Nothing more is done on it than to take in what comes.
  if (dayIsOver && isAwaited) await rememberDevice({ ...ANEW, day_id: "", table_id: "" });
  return gone;
}

/** Let go of forms that were begun in another role or on a day which this device works on no longer. */
async function letGoOfOtherForms(dayIsOver: boolean) {
  const known = device.peek();
  if (!known) return;
  if (dayIsOver) await emptyJournal();
  const works_on = dayOfWork(known);
  const isElsewhere = (day_id: string) =>
    record(day_id) === null || (day_id === works_on ? dayIsOver : !asksTheOffice(known));
  // A count that is begun stays for whoever may record it, whatever work that is by now: it stands nowhere else.
  const counts = new Set(known.role === "desk" ? [] : daysCounting().map(countOf));
  const goes = ({ name, day_id, role = known.role }: HeldForm) =>
    (role !== known.role && !counts.has(name)) ||
    (day_id !== "" && isElsewhere(day_id)) ||
    (isOfClosing(name) && Boolean(record(day_id)?.fields.closed));
  if ([...held.values()].some(goes)) await write(["held", "setting"], (tx) => letGoOfForms(tx, goes));
  const shown = Object.keys(unsent.peek()).filter(isOfClosing); // an app of before kept them to be read
  if (shown.length) await write(["setting"], (tx) => dropUnsentOf(tx, shown));
}

/**
 * The office has signed this device off: whatever is not owed leaves it at once. Of the records that stay for what is
 * owed the owner's words leave too, but for those that wait here to be sent.
 */
export async function letGoOfAll(): Promise<number> {
  await forgetPicturesBut([]);
  return allLeaves().catch(async (error) => {
    if (!isPhoneFull()) throw error;
    await deleteWhatIsNotOwed(); // a full phone can write nothing, and has room by that
    return allLeaves().catch(async (still) => {
      await deleteAllButOwed();
      throw still;
    });
  });
}

/** What waits to be sent has its own words, and needs no record for that: those that name an owner go as well. */
export async function deleteAllButOwed(): Promise<void> {
  noteLetGo();
  await deleteWhatIsNotOwed();
  await deleteNaming(namesOwner);
}

function noteLetGo() {
  try {
    localStorage.setItem(LET_GO, "yes");
  } catch {
    // Not even this can be written: whoever is paired anew reads all of it.
  }
}

/** The same of these alone, of which an owner's words were erased or are told no longer. How many went. */
export async function deleteAllOf(theirs: (of: RecordCopy) => boolean): Promise<number> {
  const gone = await deleteWhatIsNotOwed(theirs);
  const saysSomething = ({ fields }: RecordCopy) =>
    Object.entries(fields).some(([name, { value }]) => isOfOwner(name) && Boolean(value));
  const named = await deleteNaming((of) => theirs(of) && saysSomething(of));
  if (named) noteLetGo();
  return gone + named;
}

function deleteNaming(goes: (of: RecordCopy) => boolean): Promise<number> {
  return write(["record"], async (tx) => {
    const going = (await tx.records()).filter(goes);
    for (const { record_id } of going) await tx.delete("record", record_id);
    return going.length;
  });
}

/** All of these that are not owed, by what needs no room. How many went. */
export function deleteWhatIsNotOwed(
  goes: (of: RecordCopy) => boolean = () => true,
  stays: ReadonlySet<string> = new Set(),
): Promise<number> {
  return write(["record", "outbox", "refused"], async (tx) => {
    const kept = await owed(tx);
    const going = (await tx.records()).filter((of) => goes(of) && !kept.has(of.record_id));
    const gone = going.filter(({ record_id }) => !stays.has(record_id));
    for (const { record_id } of gone) await tx.delete("record", record_id);
    return gone.length;
  });
}

async function allLeaves(): Promise<number> {
  await emptyJournal();
  await write(["held", "setting"], async (tx) => {
    await letGoOfForms(tx, () => true);
    await dropOfDesk(tx);
  });
  const gone = await letGo("signed off", "", () => true);
  await write(["record", "setting"], async (tx) => {
    const named = await dropOwnersWords(tx);
    const now = await tx.setting("device");
    if (now && named) await tx.remember("device", { ...now, ...ANEW });
  });
  return gone;
}

const namesOwner = ({ fields }: RecordCopy) => Object.keys(fields).some(isOfOwner);

/** Of whatever record stays the words of owners go. Of how many. */
async function dropOwnersWords(tx: Writing): Promise<number> {
  const named = (await tx.records()).filter(namesOwner);
  for (const record of named) await tx.put("record", withoutOwnersWords(record));
  return named.length;
}

/** All is read from its start, whatever this device works on. */
const ANEW = { scope: "", cursor: 0 };

type OfRecord = { kind: string; day_id: string; closed: boolean };

async function letGo(
  why: Left["why"],
  office_time: string,
  goes: (of: OfRecord) => boolean,
): Promise<number> {
  const gone = await letGoOfRecords(why, office_time, goes);
  const known = device.peek();
  const days = known ? [dayOfWork(known), ...daysAwaited(known), ...daysOwed()] : [];
  await forgetPicturesBut(days.filter((day_id) => day_id && !goes({ kind: "item", day_id, closed: false })));
  return gone;
}

/** What notes something of records that leave, once it is here: it comes with the words' pack (numbers_gone.ts). */
export const leaving = {
  fetched: async (): Promise<unknown> => null,
  note: async (_: Writing, __: RecordCopy[], ___: Left["why"]): Promise<unknown> => null,
};

async function letGoOfRecords(
  why: Left["why"],
  office_time: string,
  goes: (of: OfRecord) => boolean,
): Promise<number> {
  // Asked at each round: reading all records for that would halt a slow device, and memory knows of each.
  const going = [...storedCopies()].filter(({ kind, day_id, fields }) =>
    goes({ kind, day_id, closed: kind === "day" && Boolean(fields.closed) }),
  );
  if (!going.length) return 0;
  if (why !== "signed off") await leaving.fetched().catch(() => {});
  return write(["record", "outbox", "refused", "answered", "setting"], async (tx) => {
    const now = await tx.setting("device");
    const lends = now !== undefined && asksTheOffice(now) && why !== "signed off";
    if (!lends) await forgetOpened(tx);
    const stays = new Set([...(await owed(tx)), ...(await openedRecords(tx))]);
    const gone = going.filter(({ record_id }) => !stays.has(record_id));
    const at = new Date().toISOString();
    if (office_time) await noteClosings(tx, office_time, why === "over" ? now?.day_id : "");
    await noteDays(tx, new Map(gone.map(({ record_id, day_id }) => [record_id, day_id])));
    await leaving.note(tx, gone, why);
    for (const { record_id } of gone) await tx.delete("record", record_id);
    let named = 0;
    const words = gone.some(({ kind }) => kind !== "day") && !(lends && why === "another day"); // no desk held those
    if (now && why === "signed off" && gone.length) await tx.remember("device", { ...now, ...ANEW });
    const isHere = now !== undefined && stays.has(now.day_id);
    // No owner's words stay with what is owed; of another day nobody says here when it is over.
    if (why === "over" ? isHere : why === "another day" && !lends)
      for (const { record_id } of going.filter((of) => stays.has(of.record_id) && namesOwner(of))) {
        const of = await tx.get("record", record_id);
        if (of) await tx.put("record", withoutOwnersWords(of));
        named += 1;
      }
    if (now && why === "over") {
      const after = isHere ? { day_left: now.day_id } : { ...ANEW, day_id: "", table_id: "" };
      await tx.remember("device", { ...now, ...after });
    }
    const isNews = words || (why === "signed off" && (await tx.setting("left"))?.why !== why);
    if (isNews)
      await tx.remember("left", { at, why, records: gone.length, owed: going.length - gone.length });
    return gone.length + named;
  });
}

/**
 * Operations that stay here until they are safe take with them of which day they are, which nobody could look up later.
 */
async function noteDays(tx: Writing, days: Map<string, string>) {
  for (const op of await tx.answered()) {
    const of_day = days.get(op.record_id);
    if (of_day && !op.of_day) await tx.put("answered", { ...op, of_day });
  }
}
