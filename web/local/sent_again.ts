/**
 * What the office refused only because it did not know something goes to it again by itself, once that may be there:
 * what is missing may have been with a device that came after the manager had said that no other one would.
 */
import { same } from "../job/between.ts";
import { recordIdOf } from "../job/operation.ts";
import type { ItemRecord, RecordCopy } from "../job/types.ts";
import { type Writing, write } from "./changes.ts";
import type { Refused } from "./database.ts";
import { office, refused } from "./memory.ts";
import { sendAnew } from "./outbox.ts";

/** Refusals that end by what another device brings: those that the office's own errors call so. */
const UNKNOWN_THERE: ReadonlySet<string> = new Set(["not_found", "person_not_on_day", "name_not_on_day"]);

/**
 * Whether it is one of those or, with `taken_once`, one that an office took and lost: what is missing may then show as
 * anything at all. An erasure has a rule of its own (`erasures.ts`), and the office may owe it already; what somebody
 * is correcting goes when they say so, and so does what lost its words, which says that there are none.
 */
function mayYetBeTaken(one: Refused, taken_once = false) {
  const { operation, problem, kept, erased, correction } = one;
  if (kept || erased || correction !== undefined || operation.kind === "erase_consignor") return false;
  return taken_once || UNKNOWN_THERE.has(problem.code);
}

const isOfWhatIsUnknown = (row: Refused) => mayYetBeTaken(row);

/** While the office hears devices out nothing unknown is refused: all of these wait there from now on. */
export async function sendWhatMayBeHeard() {
  if (office.peek()?.hearing && refused.peek().some(isOfWhatIsUnknown))
    await write(["refused", "outbox", "setting", "record"], async (tx) =>
      sendInOrder(tx, (await tx.refused()).filter(isOfWhatIsUnknown), () => true),
    );
}

/**
 * The office tells these records, which are not stored yet: what hangs on one that is not as it stands here, or that
 * the office had not told since it lost something (`lacks`), goes again. Nothing does for what says nothing new, so
 * that each is tried once for a change and never for its own refusal. `people`: at a desk, which is told no day, those
 * of its lists who have said something of these.
 */
export async function sendWhatHangsOn(
  tx: Writing,
  records: RecordCopy[],
  { lacks = [], people }: { lacks?: readonly string[]; people?: object } = {},
) {
  const all = (await tx.refused()).filter((row) => mayYetBeTaken(row, row.taken_once));
  if (!all.length) return;
  const changed: RecordCopy[] = [];
  for (const record of records) {
    const { record_id, office_seq } = record;
    const known = await tx.get("record", record_id);
    const isAsKnown = known?.office_seq !== 0 && same({ ...known, office_seq }, { ...record, office_seq });
    if (!isAsKnown || lacks.includes(record_id)) changed.push(record);
  }
  await sendInOrder(tx, all, (row, text) =>
    changed.some((record) => text.includes(`"${record.record_id}"`) && mayEndIt(record, row, people)),
  );
}

/**
 * Whether a record as it is told may be what was missing: of somebody who was not of the day only a list that has them.
 */
function mayEndIt(record: RecordCopy, { operation, problem }: Refused, people: object = {}): boolean {
  if (problem.code !== "person_not_on_day") return true;
  const { made_by } = operation;
  return made_by in people || (record.kind === "day" && `people/${made_by}` in record.fields);
}

/**
 * Send those again that are due, by the JSON of each with the visit and the day of its record, and what builds on
 * these: in the order in which they were made, each as having seen the new one where it had seen the one before. One
 * that is in the outbox itself is judged there.
 */
async function sendInOrder(tx: Writing, all: Refused[], isDue: (row: Refused, text: string) => boolean) {
  all.sort((a, b) => a.operation.device_seq - b.operation.device_seq);
  const fresh = new Map<string, string>();
  const records = new Set<string>();
  for (const row of all) {
    const op = row.operation as typeof row.operation & { seen?: string | null };
    const record_id = recordIdOf(op);
    const of = (await tx.get("record", record_id)) as Partial<ItemRecord> | undefined;
    const text = JSON.stringify(op);
    const isNext = [...records].some((id) => text.includes(`"${id}"`));
    if (!isNext && !isDue(row, text + JSON.stringify([of?.visit_id, of?.day_id]))) continue;
    if (await tx.waitingAs(op.operation_id)) continue;
    const seen = fresh.get(op.seen ?? "");
    fresh.set(op.operation_id, await sendAnew(tx, row, seen ? { seen } : {}));
    records.add(record_id);
  }
}
