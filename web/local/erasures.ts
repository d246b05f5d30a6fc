/**
 * Whose words the office has erased. They leave this device too, wherever it keeps them; that they were erased stays
 * here, so that an office which forgot it can be told.
 */
import { same } from "../job/between.ts";
import { instant, personalIn, recordIdOf } from "../job/operation.ts";
import { isOfOwner, withoutOwnersWords } from "../job/owners_words.ts";
import type { BodyOf, Operation, Problem } from "../job/types.ts";
import { type Writing, write } from "./changes.ts";
import { type Answered, type Erasures, type Refused, transact, type Waiting } from "./database.ts";
import { dropFormsOf } from "./held.ts";
import { untold } from "./keeping.ts";
import { device, erasures as erasuresHere, forgotten, office, record, refused, waiting } from "./memory.ts";
import { keep, sendAgain, toLookAt } from "./outbox.ts";
import { sha256Of } from "./photos.ts";

/** What the office tells of a record whose words were erased: when, and where that stands in its order. */
export type Erasure = { record_id: string; made_at: string; office_seq: number };

/** Whether the office knows of more or fewer erasures than this device has heard from it. */
export function isBehindInErasures(): boolean {
  const heard = Object.values(erasuresHere.peek()).filter(({ at_office }) => at_office);
  const times = heard.reduce((sum, { times = 1 }) => sum + times, 0);
  return times !== (office.peek()?.erased ?? 0);
}

/**
 * The office has told of all that it knows; those that an office knew which was lost stay beside them. What is heard
 * now leaves the records that stand here; what an office that was put back tells once more was taken out before.
 */
export function storeErasures(all: Erasure[]) {
  return write(["setting", "record", "answered", "refused", "held"], async (tx) => {
    const before = (await tx.setting("erasures")) ?? {};
    const erasures = untold(before);
    const heard: Erasures = {};
    for (const { record_id, made_at, office_seq } of all) {
      const times = (heard[record_id]?.times ?? 0) + 1;
      heard[record_id] = { made_at, at_office: true, office_seq, times };
    }
    Object.assign(erasures, heard);
    await tx.remember("erasures", erasures);
    const fresh = Object.entries(heard).filter(([id, erasure]) => !same(erasure, before[id]));
    if (fresh.length) await dropFromRecords(tx, Object.fromEntries(fresh));
    const asked = fresh.filter(([id, erasure]) => isAskedAnew(erasure, before[id]));
    if (asked.length) await dropWhatIsNotSent(tx, Object.fromEntries(asked));
  });
}

type Heard = Erasures[string];

function isAskedAnew({ made_at, times = 1 }: Heard, before?: Heard): boolean {
  return !before || times > (before.times ?? 1) || instant(made_at) > instant(before.made_at);
}

/**
 * Tell the office of erasures that it has forgotten, as an operation made when it was asked for, so that what was
 * written since then stays. One that it refused, since it had lost the visit, is sent again once the visit is back. A
 * manager's device does so, since nobody else may erase.
 */
export async function tellErasures() {
  if (device.peek()?.role !== "manager") return;
  for (const row of refused.peek()) if (isOfWhatIsBack(row)) await sendAgain(row, {});
  const operations = [...waiting.peek(), ...refused.peek().map(({ operation }) => operation)];
  const on_their_way = operations.map((op) => op.kind === "erase_consignor" && op.visit_id);
  for (const [visit_id, { made_at, at_office }] of Object.entries(erasuresHere.peek()))
    if (!at_office && !on_their_way.includes(visit_id))
      await keep("erase_consignor", { visit_id, made_at } as BodyOf<"erase_consignor">);
}

/** Whether an erasure was refused because the visit was not there, and the office has told of it since. */
function isOfWhatIsBack({ operation, problem }: Refused): boolean {
  if (operation.kind !== "erase_consignor" || problem.code !== "not_found") return false;
  const { visit_id } = operation;
  return Boolean(record(visit_id)) && !forgotten.peek()?.lacks?.includes(visit_id);
}

/** Of words that the office had before it heard of an erasure that is older than they are. */
const ERASED_SINCE: Problem = {
  code: "words_erased",
  title: "Kept without its words",
  detail: "The office heard late that the owner's words are to be erased, and erased these as well.",
  hint: "By the clocks this was said after the owner asked. If so, enter it once more; what was signed is signed anew.",
};

/**
 * Let go of words that were erased since they were written. An answered operation keeps their digest in their place, by
 * which the office knows it; one that a person is still to look at is shown without them. Of words that were said after
 * their owner asked, and went since the office heard of that later, a person is told.
 */
export async function dropErasedWords() {
  const erasures = erasuresHere.peek();
  if (!Object.keys(erasures).length) return;
  await dropMadeBefore(erasures);
  const answered = await transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());
  // Those without theirs already stay, though an app of before counted fewer as such: the office knows them by these.
  const hasWords = (op: Answered) => wordsOf(op).length && !("private_sha256" in op);
  const erased = answered.filter((op) => isErased(op, erasures) && hasWords(op));
  if (!erased.length) return;
  const without = await Promise.all(erased.map(withoutWords)); // before the transaction, which waits for nothing else
  await write(["answered", "refused", "held", "setting"], async (tx) => {
    for (const op of without) {
      if (await tx.get("answered", op.device_seq)) await tx.put("answered", op); // else it was let go of meanwhile
    }
    for (const op of erased) {
      const shown = await tx.get("refused", op.operation_id);
      if (shown) await dropItsWords(tx, shown);
      else if (isSaidSince(op, erasures)) await toLookAt(tx, asMade(op), ERASED_SINCE, { kept: true });
    }
  });
}

/**
 * Forms that were begun go: on the visit, on what the owner told of a thing, on why one of two values was held. Of what
 * a person is to look at the words leave, though its answer may have been let go of since: then it was heard before.
 */
async function dropWhatIsNotSent(tx: Writing, erasures: Erasures) {
  const ids = Object.keys(erasures);
  for (const { record_id, fields, disagreements } of await tx.records())
    if (lastOf(erasures, record_id))
      ids.push(
        `${record_id} told_words`,
        ...Object.keys(fields)
          .filter((name) => name.startsWith("findings/"))
          .map(toldForm),
        ...disagreements.map(({ disagreement_id }) => disagreement_id),
      );
  await dropFormsOf(tx, ids);
  const answered = new Map((await tx.answered()).map((op) => [op.operation_id, op.office_seq]));
  for (const one of await tx.refused()) {
    const erasure = lastOf(erasures, recordIdOf(one.operation));
    const heard = answered.get(one.operation_id) ?? 0;
    if (erasure && heard < (erasure.office_seq ?? 0) && wordsOf(one.operation).length)
      await dropItsWords(tx, one);
  }
}

/** By which the form of what was told of a finding goes (`parts/told_note.tsx`). */
const toldForm = (name: string) => name.replace("findings/", "finding-notes/");

/** One that was made before its owner asked, and refused later, would be taken without its words in any case. */
async function dropMadeBefore(erasures: Erasures) {
  const now = device.peek()?.clock_offset_ms ?? 0;
  const isMadeBefore = ({ operation, kept, clock_offset_ms = now }: Refused) => {
    const erasure = lastOf(erasures, recordIdOf(operation));
    // By the clock as it is put right now, or as it was: the office takes the earlier, since either may be wrong.
    const made_at = Date.parse(operation.made_at) + Math.min(0, now - clock_offset_ms);
    return !kept && erasure && saysSomething(operation) && made_at <= Date.parse(erasure.made_at);
  };
  if (!refused.peek().some(isMadeBefore)) return;
  await write(["refused", "held", "setting"], async (tx) => {
    for (const one of await tx.refused()) if (isMadeBefore(one)) await dropItsWords(tx, one);
  });
}

/**
 * A record of a day that is over stays here for what is owed of it, and the office tells it no more: what was erased
 * leaves it all the same. What this device has said since then stays: its answers are still here when the erasure is
 * heard, and later nobody could tell.
 */
async function dropFromRecords(tx: Writing, erasures: Erasures) {
  const answered = await tx.answered();
  for (const record of await tx.records()) {
    const { record_id } = record;
    const office_seq = lastOf(erasures, record_id)?.office_seq ?? 0;
    if ((record.office_seq ?? 0) >= office_seq || !Object.keys(record.fields).some(isOfOwner)) continue;
    const since = answered.filter((op) => op.record_id === record_id && op.office_seq > office_seq);
    await tx.put(
      "record",
      withoutOwnersWords(record, new Set(since.map(({ operation_id }) => operation_id))),
    );
  }
}

/** Whether it says something, was kept with that, and was made after the erasure that took it was asked for. */
function isSaidSince(op: Answered, erasures: Erasures): boolean {
  const erasure = lastOf(erasures, op.record_id);
  if (op.outcome !== "kept" || op.without_words || !erasure) return false;
  return saysSomething(op) && instant(op.made_at) > instant(erasure.made_at);
}

function saysSomething(op: Operation | Answered): boolean {
  return wordsOf(op).some(([name, words]) => name !== "salt" && [words].flat().some(Boolean));
}

/**
 * Whether its words were erased: the office had it when they were, or has it without them. An office that has forgotten
 * the erasure counts otherwise; then the clocks decide.
 */
function isErased({ record_id, made_at, office_seq, without_words }: Answered, erasures: Erasures) {
  const erasure = lastOf(erasures, record_id);
  if (without_words || !erasure) return Boolean(without_words);
  if (erasure.at_office && erasure.office_seq !== undefined) return office_seq < erasure.office_seq;
  return instant(made_at) <= instant(erasure.made_at);
}

/**
 * The erasure that took the words of a record with it: of an item its visit's, of what belongs to no visit any of its
 * day.
 */
function lastOf(erasures: Erasures, record_id: string): Heard | undefined {
  const of = record(record_id);
  if (of?.kind === "item") return erasures[of.visit_id];
  if (of?.kind !== "day" && of?.kind !== "container") return erasures[record_id];
  return Object.entries(erasures)
    .filter(([visit_id]) => record(visit_id)?.day_id === of.day_id)
    .map(([, erasure]) => erasure)
    .sort((a, b) => (a.office_seq ?? 0) - (b.office_seq ?? 0))
    .at(-1);
}

type Members = Record<string, unknown>;

/**
 * The personal words of an operation and their salt, in the order of their names; of `lines.words` those of each line.
 */
function wordsOf(op: Operation | Answered): [name: string, value: unknown][] {
  return personalIn(op)
    .map((name): [string, unknown] => [name, wordsAt(op, name)])
    .filter(([, value]) => value !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1));
}

function wordsAt(op: object, name: string): unknown {
  const [several = "", word] = name.split(".");
  const value = membersOf(op)[several];
  if (word === undefined) return value;
  const each = Array.isArray(value) ? (value as Members[]) : [];
  return each.some((line) => word in line) ? each.map((line) => line[word] ?? "") : undefined;
}

/** An operation by the names of its members, which the table of kinds knows. */
function membersOf(op: object): Members {
  return op as Members;
}

/** The members of an operation with other words in the place of each of these, or with none. */
function withOthers<Op extends object>(op: Op, names: readonly string[], other?: string): Op {
  const changed = { ...op };
  const members = membersOf(changed);
  const put = (of: Members, name: string) => {
    if (other === undefined) delete of[name];
    else of[name] = other;
  };
  for (const name of names) {
    const [several = "", word] = name.split(".");
    if (word === undefined) put(members, several);
    else
      members[several] = (members[several] as Members[]).map((before) => {
        const line = { ...before };
        put(line, word);
        return line;
      });
  }
  return changed;
}

/**
 * The operation with the SHA-256 of its words in their place, as the office's log has it: over their canonical JSON
 * (RFC 8785), which of objects of texts is the ordinary one with their names in order.
 */
async function withoutWords(op: Answered): Promise<Answered> {
  const words = wordsOf(op);
  const text = new TextEncoder().encode(JSON.stringify(Object.fromEntries(words), namesIn(words)));
  const rest = withOthers(
    op,
    words.map(([name]) => name),
  );
  return { ...rest, private_sha256: await sha256Of(text.buffer) };
}

/** The names of words and of what is in them, in the order in which they are written. */
function namesIn(words: [string, unknown][]): string[] {
  const inside = ([name, value]: [string, unknown]) => [name, ...Object.keys(isMembers(value) ? value : {})];
  return words.flatMap(inside).sort();
}

function isMembers(value: unknown): value is Members {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What a person is to look at stays without its words and without those that somebody was putting in their place. */
async function dropItsWords(tx: Writing, { correction: _, ...shown }: Refused) {
  const erased = !shown.kept && ({ erased: true } as const);
  await tx.put("refused", { ...shown, operation: blanked(shown.operation), ...erased });
  await dropFormsOf(tx, [shown.operation_id]);
}

/** An operation as it was made, without its words and without what the office answered. */
function asMade({ outcome, office_seq, ...op }: Answered): Waiting {
  return blanked(op as Waiting);
}

function blanked<Made extends Operation>(op: Made): Made {
  const names = wordsOf(op).map(([name]) => name);
  return withOthers(
    op,
    names.filter((name) => name !== "salt"),
    "",
  );
}
