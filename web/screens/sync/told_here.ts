/** What an operation on this device did, in words, with what it names as this device knows it. */
import { thingName } from "../../job/custody.ts";
import { recordIdOf } from "../../job/operation.ts";
import { operationWords } from "../../job/operation_words.ts";
import type { Operation } from "../../job/types.ts";
import { record } from "../../local/memory.ts";
import { listsOf } from "../../local/plan_book.ts";

export function toldHere(op: Operation): string {
  return operationWords(op, listsOf(record(recordIdOf(op))), (container_id) => {
    const container = record(container_id);
    return container?.kind === "container" ? thingName(container) : "";
  });
}
