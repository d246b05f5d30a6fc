/** What did not work when it was tried: the owner signs for it as for a fault. */

import { sameThing } from "./cautions.ts";
import type { TestValue } from "./fields.ts";
import { FAILED } from "./receipt_failed.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

/** Each failure in words, and where it was said. What the record in front says of a trial holds. */
export function failedTrials(item: RecordCopy): { words: string; set: FieldValue<TestValue> }[] {
  const said = new Map<string, FieldValue<TestValue>>();
  for (const one of sameThing(item))
    for (const { id, set } of listed(one, "tests/")) if (!said.has(id)) said.set(id, set);
  return [...said].sort().flatMap(([test, set]) => {
    const words = FAILED[test];
    return words && set.value.result === "no-response" ? [{ words, set }] : [];
  });
}
