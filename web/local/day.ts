/**
 * The day that this device holds, and nothing beside it; a desk has no day and holds what it opened last. What it may
 * hold no longer leaves it: the records of a day that is over or was left for another, those that its new work does not
 * need, all of them once it was signed off. What it owes stays until it is sent, and what the office has in one place
 * only stays as keeping.ts says.
 */
import { storedCopies } from "./assembled.ts";
import { type Writing, write } from "./changes.ts";
import { noteClosings } from "./closings.ts";
import type { Left } from "./database.ts";
import type { ThisDevice } from "./device.ts";
import { device } from "./memory.ts";
import { forgetOpened, openedRecords } from "./opened.ts";
import { forgetPicturesBut } from "./pictures_ahead.ts";

/** The day of which this device holds the records; a desk holds none, whatever it did before. */
export function dayOfWork({ role, day_id }: ThisDevice): string {
  return role === "desk" ? "" : day_id;
}

/** What a device holds depends on these. */
export function scopeOf(device: ThisDevice): string {
  return [device.role, dayOfWork(device), device.table_id].join(" ");
}

/** Whether this device asks the office for whatever it does not hold. */
export function asksTheOffice({ role }: ThisDevice) {
  return role === "desk" || role === "manager";
}

/** Before the feed is read: a device that does other work now, or on another day, reads it from its start. */
export async function beginReading(): Promise<void> {
  const known = device.peek();
  if (!known || known.scope === scopeOf(known)) return;
  await write(["setting"], async (tx) => {
    const now = await tx.setting("device");
    if (now) await tx.remember("device", { ...now, scope: scopeOf(now), cursor: 0 });
  });
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
 * itself if it is over. How many went. `office_time`: the office's clock as it said so.
 */
export async function letGoOfOtherDays(dayIsOver: boolean, office_time: string): Promise<number> {
  const known = device.peek();
  if (!known) return 0;
  const works_on = dayOfWork(known);
  return letGo(dayIsOver ? "over" : "another day", office_time, ({ kind, day_id, closed }) =>
    day_id === works_on ? dayIsOver : kind !== "day" || closed,
  );
}

/** The office has signed this device off: whatever is not owed leaves it at once. */
export function letGoOfAll(): Promise<number> {
  return letGo("signed off", "", () => true);
}

type OfRecord = { kind: string; day_id: string; closed: boolean };

async function letGo(
  why: Left["why"],
  office_time: string,
  goes: (of: OfRecord) => boolean,
): Promise<number> {
  const gone = await letGoOfRecords(why, office_time, goes);
  const known = device.peek();
  if (gone) await forgetPicturesBut(known && why !== "signed off" ? dayOfWork(known) : "");
  return gone;
}

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
  return write(["record", "outbox", "refused", "answered", "setting", "held"], async (tx) => {
    const now = await tx.setting("device");
    const lends = now !== undefined && asksTheOffice(now) && why !== "signed off";
    if (!lends) await forgetOpened(tx);
    const stays = new Set([...(await owed(tx)), ...(await openedRecords(tx))]);
    const gone = going.filter(({ record_id }) => !stays.has(record_id));
    const at = new Date().toISOString();
    if (office_time) await noteClosings(tx, office_time, why === "over" ? now?.day_id : "");
    await noteDays(tx, new Map(gone.map(({ record_id, day_id }) => [record_id, day_id])));
    for (const { record_id } of gone) await tx.delete("record", record_id);
    const words = gone.some(({ kind }) => kind !== "day") && !(lends && why === "another day"); // no desk held those
    const anew = { scope: "", cursor: 0 };
    if (now && why === "signed off") await tx.remember("device", { ...now, ...anew });
    if (now && why === "over" && !stays.has(now.day_id))
      await tx.remember("device", { ...now, ...anew, day_id: "", table_id: "" });
    if (words || why === "signed off")
      await tx.remember("left", { at, why, records: gone.length, owed: going.length - gone.length });
    return gone.length;
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
