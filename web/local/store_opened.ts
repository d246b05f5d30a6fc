/** An entry is kept as it is opened at a desk; with the desk's screens, since no other device opens any. */
import type { EntryPage } from "../job/desk.ts";
import type { OfficeStanding, RecordCopy } from "../job/types.ts";
import { storedCopy } from "./assembled.ts";
import { type Writing, write } from "./changes.ts";
import { settingIn, transact } from "./database.ts";
import { type Asked, beforeLoss } from "./keeping.ts";
import { apply } from "./load.ts";
import { device } from "./memory.ts";
import type { Opened } from "./opened.ts";
import { sendWhatHangsOn } from "./sent_again.ts";

/** So many entries stay. */
const MOST = 30;

export function openedEntry(item_id: string): Promise<Opened | undefined> {
  return transact(["setting"], "readonly", (tx) => settingIn(tx, `entry ${item_id}`));
}

/** The entries that are kept, the one that was opened last first. */
export function openedLast(): Promise<Opened[]> {
  return transact(["setting"], "readonly", async (tx) => {
    const ids = (await settingIn(tx, "opened")) ?? [];
    const entries = await Promise.all(ids.map((id) => settingIn(tx, `entry ${id}`)));
    return entries.filter((opened) => opened !== undefined);
  });
}

/** What is kept of an entry, as the office told it at a time; an owner's words that were asked for never are. */
export function openedAs(
  { records, list: _, told: __, office: ___, ...rest }: EntryPage,
  read_at: string,
): Opened {
  return { ...rest, read_at, record_ids: records.map(({ record_id }) => record_id) };
}

/**
 * Keep an entry as the office tells it in place of the one that was opened longest ago, whose records go with the next
 * reading of the feed. It is shown before this returns, since a person waits for it and a disk may take its time; what
 * could not be kept is taken back. A record that the feed has brought further meanwhile stays as it is. What was
 * refused and may be taken now, by what these say, goes again: no item comes to a desk by the feed. A device that was
 * signed off or given other work meanwhile keeps and shows nothing of it. `asked`: what the device said that it was
 * told last, which is more from then on.
 */
export async function storeOpened(
  { records, office }: EntryPage,
  opened: Opened,
  asked: Asked,
): Promise<void> {
  const before = device.peek();
  if (before?.revoked) return;
  const item_id = opened.record_ids[0] ?? "";
  const takeBack = showAhead(records);
  const kept = write(["record", "outbox", "refused", "setting"], async (tx) => {
    const now = await tx.setting("device"); // another tab may have heard of it first
    if (now?.revoked || now?.role !== before?.role) return takeBack();
    await sendWhatHangsOn(tx, records, { people: opened.people });
    for (const record of records)
      if (isNoOlder(record, await tx.get("record", record.record_id))) await tx.put("record", record);
    await tx.remember(`entry ${item_id}`, opened);
    if (office) await noteFurther(tx, office, asked);
    const earlier = (await tx.setting("opened")) ?? [];
    const order = [item_id, ...earlier.filter((id) => id !== item_id)];
    await tx.remember("opened", order.slice(0, MOST));
    for (const id of order.slice(MOST)) await tx.delete("setting", `entry ${id}`);
  });
  await kept.catch((error) => {
    takeBack();
    throw error;
  });
}

/** Whether the office that told something is not as this device knew it when it asked: it has lost what it had. */
export function isAnotherLog({ epoch, known_chain }: OfficeStanding, asked: Asked) {
  return epoch !== device.peek()?.epoch || (asked.known_seq > 0 && known_chain !== asked.known_chain);
}

/**
 * What an entry was read from, the office has to have from now on as well. Where it stands otherwise than it was known
 * to, or more was heard of it meanwhile, a round finds out what is so: its requests follow one another.
 */
async function noteFurther(tx: Writing, stands: OfficeStanding, asked: Asked) {
  const before = await tx.setting("office");
  const isAsAsked = before?.office_seq === asked.known_seq && before.chain === asked.known_chain;
  if (!isAsAsked || isAnotherLog(stands, asked) || stands.office_seq <= before.office_seq) return;
  const { office_seq, chain, proof } = stands;
  await tx.remember("office", {
    ...before,
    ...{ office_seq, chain, proof },
    before_loss: beforeLoss(before, stands, false),
  });
}

/** Show records as the office tells them before the disk has them; a function that shows again what was here before. */
function showAhead(records: RecordCopy[]): () => void {
  const fresh = records.filter((record) => isNoOlder(record, storedCopy(record.record_id)));
  const shown = fresh.map((value) => ({ value, before: storedCopy(value.record_id) }));
  const all = (values: { key: string; value: RecordCopy | undefined }[]) =>
    apply(values.map((change) => ({ store: "record", ...change })));
  all(fresh.map((value) => ({ key: value.record_id, value })));
  return () => {
    const still = shown.filter(({ value }) => storedCopy(value.record_id) === value); // the feed may have brought it
    all(still.map(({ value, before }) => ({ key: value.record_id, value: before })));
  };
}

function isNoOlder(record: RecordCopy, known: RecordCopy | undefined) {
  return !known || (known.office_seq ?? 0) <= (record.office_seq ?? 0);
}
