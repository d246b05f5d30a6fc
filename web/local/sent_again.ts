/**
 * What the office refused only because it did not know something goes to it again by itself, once that may be there: what
 * is missing may have been with a device that came after the manager had said that no other one would.
 */
import { recordIdOf } from "../job/operation.ts";
import { type Writing, write } from "./changes.ts";
import type { Refused } from "./database.ts";
import { office, refused } from "./memory.ts";
import { sendAnew } from "./outbox.ts";

/** Refusals that end by what another device brings: those that the office's own errors call so. */
const UNKNOWN_THERE: ReadonlySet<string> = new Set(["not_found", "person_not_on_day", "name_not_on_day"]);

/** Whether it is one of those. An erasure has a rule of its own (`erasures.ts`), and the office may owe it already. */
function isOfWhatIsUnknown({ operation, problem, kept }: Refused) {
  return !kept && UNKNOWN_THERE.has(problem.code) && operation.kind !== "erase_consignor";
}

/** While the office hears devices out nothing unknown is refused: all of these wait there from now on. */
export async function sendWhatMayBeHeard() {
  if (office.peek()?.hearing && refused.peek().some(isOfWhatIsUnknown))
    await write(["refused", "outbox", "setting"], (tx) => sendUnknownAgain(tx, () => true));
}

/** The office has told of these records, of which it knew nothing before: what names one of them goes again. */
export function sendWhatNames(tx: Writing, told: ReadonlySet<string>) {
  return sendUnknownAgain(tx, (text) => [...told].some((id) => text.includes(`"${id}"`)));
}

/**
 * Send those again that `is_due`, by their JSON, and what builds on these: in the order in which they were made, each as
 * having seen the new one where it had seen the one before. One that is in the outbox itself is judged there.
 */
async function sendUnknownAgain(tx: Writing, is_due: (text: string) => boolean) {
  const all = (await tx.refused()).filter(isOfWhatIsUnknown);
  all.sort((one, other) => one.operation.device_seq - other.operation.device_seq);
  const fresh = new Map<string, string>();
  const records = new Set<string>();
  for (const one of all) {
    const op = one.operation as typeof one.operation & { seen?: string | null };
    const text = JSON.stringify(op);
    if (!is_due(text) && ![...records].some((id) => text.includes(`"${id}"`))) continue;
    if (await tx.waitingAs(op.operation_id)) continue;
    const seen = fresh.get(op.seen ?? "");
    fresh.set(op.operation_id, await sendAnew(tx, one, seen ? { seen } : {}));
    records.add(recordIdOf(op));
  }
}
