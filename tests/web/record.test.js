/** The same cases that the office's tests read: given, operation, expected. */
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { applyOperation } from "../../web/job/record.js";

const folder = new URL("../../fixtures/operations/", import.meta.url);

for (const file of readdirSync(folder).sort()) {
  const one = JSON.parse(readFileSync(new URL(file, folder), "utf-8"));
  test(one.says, () => {
    let record = null;
    for (const operation of one.given) {
      const result = applyOperation(record, operation);
      assert.ok("record" in result, "a given operation is refused");
      record = result.record;
    }
    const result = applyOperation(record, one.operation);
    if (one.refused) {
      assert.ok("refusal" in result);
      assert.equal(result.refusal.code, one.refused);
      return;
    }
    assert.ok("record" in result);
    const values = Object.fromEntries(Object.entries(result.record.fields).map(([name, set]) => [name, set.value]));
    assert.deepEqual(values, one.expected.values);
    const open = result.record.disagreements.map((between) => [between.field, between.kept.value, between.other.value, between.settled?.choose ?? null]);
    assert.deepEqual(open, one.expected.disagreements);
  });
}
