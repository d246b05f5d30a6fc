/**
 * Whose words the office has erased. They leave this device too, wherever it keeps them; that they were erased stays
 * here, so that an office which forgot it can be told.
 */
import { instant, saysOf } from "../job/operation.ts";
import type { BodyOf, Operation } from "../job/types.ts";
import { write } from "./changes.ts";
import { type Answered, type Erasures, settingIn, transact } from "./database.ts";
import { untold } from "./keeping.ts";
import { device, office, record, refused, waiting } from "./memory.ts";
import { keep } from "./outbox.ts";
import { sha256Of } from "./photos.ts";

/** What the office tells of a record whose words were erased: when, and where that stands in its order. */
export type Erasure = { record_id: string; made_at: string; office_seq: number };

async function erasuresHere(): Promise<Erasures> {
  return (await transact(["setting"], "readonly", (tx) => settingIn(tx, "erasures"))) ?? {};
}

/** Whether the office knows of more or fewer erasures than this device has heard from it. */
export async function isBehindInErasures(): Promise<boolean> {
  const heard = Object.values(await erasuresHere()).filter(({ at_office }) => at_office);
  const times = heard.reduce((sum, { times = 1 }) => sum + times, 0);
  return times !== (office.peek()?.erased ?? 0);
}

/** The office has told of all that it knows; those that an office knew which was lost stay beside them. */
export function storeErasures(all: Erasure[]) {
  return write(["setting"], async (tx) => {
    const erasures = untold((await tx.setting("erasures")) ?? {});
    const heard: Erasures = {};
    for (const { record_id, made_at, office_seq } of all) {
      const times = (heard[record_id]?.times ?? 0) + 1;
      heard[record_id] = { made_at, at_office: true, office_seq, times };
    }
    Object.assign(erasures, heard);
    await tx.remember("erasures", erasures);
  });
}

/**
 * Tell the office of erasures that it has forgotten, as an operation made when it was asked for, so that what was written
 * since then stays. A manager's device does so, since nobody else may erase.
 */
export async function tellErasures() {
  if (device.peek()?.role !== "manager") return;
  const operations = [...waiting.peek(), ...refused.peek().map(({ operation }) => operation)];
  const on_their_way = operations.map((op) => op.kind === "erase_consignor" && op.visit_id);
  for (const [visit_id, { made_at, at_office }] of Object.entries(await erasuresHere()))
    if (!at_office && !on_their_way.includes(visit_id))
      await keep("erase_consignor", { visit_id, made_at } as BodyOf<"erase_consignor">);
}

/**
 * Let go of words that were erased since they were written. An answered operation keeps their digest in their place, by
 * which the office knows it; one that a person is still to look at is shown without them.
 */
export async function dropErasedWords() {
  const erasures = await erasuresHere();
  if (!Object.keys(erasures).length) return;
  const answered = await transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());
  const erased = answered.filter((op) => isErased(op, erasures) && wordsOf(op).length);
  if (!erased.length) return;
  const without = await Promise.all(erased.map(withoutWords)); // before the transaction, which waits for nothing else
  await write(["answered", "refused"], async (tx) => {
    for (const op of without) {
      if (await tx.get("answered", op.device_seq)) await tx.put("answered", op); // else it was let go of meanwhile
      const shown = await tx.get("refused", op.operation_id);
      if (shown) await tx.put("refused", { ...shown, operation: blanked(shown.operation) });
    }
  });
}

/**
 * Whether its words were erased: the office had it when they were, or has it without them. An office that has forgotten
 * the erasure counts otherwise; then the clocks decide.
 */
function isErased({ record_id, made_at, office_seq, without_words }: Answered, erasures: Erasures) {
  const of = record(record_id);
  const erasure = erasures[record_id] ?? (of?.kind === "item" ? erasures[of.visit_id] : undefined);
  if (without_words || !erasure) return Boolean(without_words);
  if (erasure.at_office && erasure.office_seq !== undefined) return office_seq < erasure.office_seq;
  return instant(made_at) <= instant(erasure.made_at);
}

/** The personal words of an operation and their salt, in the order of their names. */
function wordsOf(op: Operation | Answered): [name: string, value: unknown][] {
  const personal = saysOf(op as Operation)?.personal ?? [];
  return Object.entries(op)
    .filter(([name, value]) => personal.includes(name) && value !== undefined)
    .sort(([one], [other]) => (one < other ? -1 : 1));
}

/**
 * The operation with the SHA-256 of its words in their place, as the office's log has it: over their canonical JSON
 * (RFC 8785), which of an object of texts is the ordinary one with its names in order.
 */
async function withoutWords(op: Answered): Promise<Answered> {
  const words = wordsOf(op);
  const text = new TextEncoder().encode(JSON.stringify(Object.fromEntries(words)));
  const names = new Set(words.map(([name]) => name));
  const rest = Object.fromEntries(Object.entries(op).filter(([name]) => !names.has(name)));
  return { ...rest, private_sha256: await sha256Of(text.buffer) } as unknown as Answered;
}

function blanked(op: Operation): Operation {
  const words = wordsOf(op).filter(([name]) => name !== "salt");
  return { ...op, ...Object.fromEntries(words.map(([name]) => [name, ""])) };
}
