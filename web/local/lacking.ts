/**
 * What the office lost and this device cannot send: records that it shows as the office once had them, and whose
 * operations it has no longer. Other devices and copies may have them. A day can be set up again from here; of the rest
 * the text is left.
 */
import { dayFacts } from "../job/day_facts.ts";
import { recordIdOf, saysOf } from "../job/operation.ts";
import type { DayRecord, RecordCopy } from "../job/types.ts";
import { listed } from "../job/values.ts";
import { forgotten, record, waiting } from "./memory.ts";
import { asTyped, keep } from "./outbox.ts";

/**
 * The records that the office had once and has not now, and that this device does not open there: what does waits to be
 * sent. None before the office was heard to the end.
 */
export function lacking(): RecordCopy[] {
  const last = forgotten.value;
  if (!last?.done_at) return [];
  const opening = waiting.value.filter((op) => saysOf(op)?.opens).map(recordIdOf);
  return (last.lacks ?? []).flatMap((id) => (opening.includes(id) ? [] : (record(id) ?? [])));
}

/**
 * Set a day up again as it stands here, under its own id: what waits for it at the office goes on. Its runs of tickets
 * come with it, since tickets of them are in people's hands: nobody is to be given the same run anew.
 */
export async function openAgain(day: DayRecord) {
  const { house, place, held_on, currency, tables } = dayFacts(day);
  const day_id = day.record_id;
  const people = listed(day, "people/").map(({ value }) => value);
  const opened = await keep("open_day", { day_id, house, place, held_on, currency, tables, people });
  for (const { id, value } of listed(day, "ticket-runs/"))
    await asTyped({ unseen: true }, () => keep("give_tickets", { day_id, run_id: id, ...value }));
  return opened;
}
