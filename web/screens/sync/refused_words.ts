/** What an operation that a person must look at would have done, so that it can be judged where it is read. */
import { thingName } from "../../job/custody.ts";
import { recordIdOf } from "../../job/operation.ts";
import { settledWords } from "../../job/settled_words.ts";
import type { Operation } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { record } from "../../local/memory.ts";
import { listsOf } from "../../local/plan_book.ts";
import { toldHere } from "./told_here.ts";

/** Of a settlement, which field it is of and both values: the record has them still, since nothing was settled. */
export function refusedWords(op: Operation): string {
  const of = record(recordIdOf(op));
  if (op.kind !== "settle_disagreement" || !of) return toldHere(op);
  return settledWords(op, { disagreements: of.disagreements ?? [], lists: listsOf(of) });
}

/** What the record that it is on is called: a thing by its name, a container by its number, a visit by its ticket. */
export function calledHere(of: NonNullable<ReturnType<typeof record>>): string {
  if (of.kind === "day") return "this day";
  if (of.kind === "visit") return fieldValue(of, "ticket") || "this visit";
  return thingName(of);
}
