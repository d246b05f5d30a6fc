/**
 * What an operation did, with what it names looked up: a history shows no id and no code. Without anything to look up
 * in it says the same as on the device that made it.
 */

import type { Logged } from "./desk.ts";
import { severityWords } from "./graded.ts";
import { className, type Lists } from "./list_words.ts";
import { fieldOf } from "./operation.ts";
import { operationWords } from "./operation_words.ts";
import { settledWords } from "./settled_words.ts";
import type { Disagreement, Operation, VisitRecord } from "./types.ts";
import { listed } from "./values.ts";
import { spaced } from "./words.ts";

/** Where what operations name is looked up; "" for what is not known. */
export type Named = {
  lists: Lists;
  tableName: (table_id: string) => string;
  hazardName: (hazard: string) => string;
  containerName: (container_id: string) => string;
  disagreements: readonly Disagreement[];
};

/** With why somebody corrected what stood there, where they did. */
export function historyWords(op: Operation, named: Named): string {
  const why = "correction" in op && op.correction ? `, corrected: ${op.correction}` : "";
  return saidWords(op, named) + why;
}

function saidWords(op: Operation, named: Named): string {
  switch (op.kind) {
    case "set_item":
      if (op.field === "class_id") return `said what kind of thing it is: ${classWords(op.value, named)}`;
      return operationWords(op, named.lists);
    case "set_visit":
      if (op.field === "table_id")
        return `said the table: ${named.tableName(String(op.value)) || "no table"}`;
      if (op.field === "stage") return `said where the owner is: ${spaced(String(op.value))}`;
      return operationWords(op, named.lists);
    case "raise_caution": {
      const level = op.level === "red" ? "Stop" : `a caution (${op.level})`;
      const seen = [named.hazardName(op.hazard) || "a hazard", op.sign].filter(Boolean).join(", ");
      return `raised ${level}: ${seen}`;
    }
    case "settle_disagreement":
      return settledWords(op, named);
    default:
      return operationWords(op, named.lists, named.containerName);
  }
}

/** What was said, and as how many records it came: a text that was typed with pauses is one line of a history. */
export type Run = { said: Logged; records: number };

/**
 * A history in the order in which things were done, each text that was typed on as it stood at the end. A device that
 * had no network is heard later than the others, and what it said twice before it was heard lies where it was said
 * first.
 */
export function inRuns(past: readonly Logged[]): Run[] {
  const runs: Run[] = [];
  for (const said of past.toSorted((one, other) => doneAt(one) - doneAt(other))) {
    const before = runs.at(-1);
    if (before && isTypedOn(before.said, said)) runs[runs.length - 1] = { said, records: before.records + 1 };
    else runs.push({ said, records: 1 });
  }
  return runs;
}

/** A receipt that names the thing, at its place between what was said before it and after it. */
export type Signed = { number: string; made_at: string; words: string; at: number };

/**
 * What its owner has signed, the oldest first: who reads a history sees by it what the owner read and what came later.
 * Of a signature's own device the history may say by how much its clock was off.
 */
export function signedOf(visit: VisitRecord, item_id: string, past: readonly Logged[]): Signed[] {
  return listed(visit, "receipts/")
    .filter(({ value }) => value.lines.some((line) => line.item_id === item_id))
    .map(({ value: { number, what, is_on_paper }, set: { made_at, device_id } }) => {
      const at = Date.parse(made_at);
      const near = past
        .filter(({ operation }) => operation.device_id === device_id)
        .map((said) => ({ off: said.clock_off_s, by: Math.abs(Date.parse(said.operation.made_at) - at) }))
        .sort((one, other) => one.by - other.by);
      const how = is_on_paper ? "signed on paper" : "signed";
      const words = `${how} ${number}: ${what === "left" ? "it was left here" : "it was taken back"}`;
      return { number, made_at, words, at: at - (near[0]?.off ?? 0) * 1000 };
    })
    .sort((one, other) => one.at - other.at);
}

/** How many of the runs were done before it was signed. */
export function placeOf({ at }: Signed, runs: readonly Run[]): number {
  return runs.filter(({ said }) => doneAt(said) <= at).length;
}

/** That a fault was found graver, or less grave, than the run before said of the same; "" if it was not. */
export function severityChange(runs: readonly Run[], index: number, lists: Lists): string {
  const now = runs[index]?.said;
  if (now?.operation.kind !== "record_finding" || now.operation.withdrawn) return "";
  const { finding_id, severity } = now.operation;
  const before = runs
    .slice(0, index)
    .flatMap(({ said: { operation, outcome } }) =>
      outcome === "kept" && operation.kind === "record_finding" && operation.finding_id === finding_id
        ? operation
        : [],
    )
    .at(-1);
  if (!before || before.withdrawn || before.severity === severity) return "";
  return `, from ${severityWords(lists, before.severity)} to ${severityWords(lists, severity)}`;
}

/** By the office's clock, as it took the time itself; one that is on no calendar tells less than when it was heard. */
function doneAt({ operation, received_at, clock_off_s }: Logged) {
  const made = Date.parse(operation.made_at) - clock_off_s * 1000;
  return Number.isNaN(made) ? Date.parse(received_at) : made;
}

/** Whoever looks for words longer than this has said the next thing. Common practice. */
const ONE_TEXT_MS = 60_000;
const ENVELOPE = new Set(["operation_id", "made_at", "device_seq", "seen", "salt"]);

/** Whether one is the other with letters typed on, put in or taken out, by the same person soon after. */
function isTypedOn(before: Logged, after: Logged): boolean {
  const [one, other] = [before.operation, after.operation];
  if (before.outcome !== "kept" || after.outcome !== "kept" || one.kind !== other.kind) return false;
  const field = fieldOf(one)?.[0];
  if (!field || field !== fieldOf(other)?.[0]) return false;
  const between = Date.parse(other.made_at) - Date.parse(one.made_at);
  if (!(between >= 0 && between <= ONE_TEXT_MS)) return false;
  const then = new Map<string, unknown>(Object.entries(one));
  const since = Object.entries(other).filter(
    ([name, value]) => !ENVELOPE.has(name) && JSON.stringify(value) !== JSON.stringify(then.get(name)),
  );
  const [[name = "", now] = [], ...more] = since;
  const was = then.get(name);
  return !more.length && typeof was === "string" && typeof now === "string" && isEdited(was, now);
}

/** Whether one text is the other with something put into it or taken out of it at one place. */
function isEdited(one: string, other: string) {
  const shorter = Math.min(one.length, other.length);
  let start = 0;
  while (start < shorter && one[start] === other[start]) start++;
  let end = 0;
  while (end < shorter - start && one.at(-1 - end) === other.at(-1 - end)) end++;
  return start + end >= shorter;
}

function classWords(value: unknown, { lists }: Named) {
  return (typeof value === "string" && className(lists, value)) || "none";
}
