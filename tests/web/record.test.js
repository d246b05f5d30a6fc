/** The same cases that the office's tests read: given, operation, expected. */
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { claimIn } from "../../web/job/custody.ts";
import { operationWords } from "../../web/job/operation_words.ts";
import { applyOperation } from "../../web/job/record.ts";
import { valueWords } from "../../web/job/value_words.ts";
import { listed } from "../../web/job/values.ts";

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
    const values = Object.fromEntries(
      Object.entries(result.record.fields).map(([name, set]) => [name, set.value]),
    );
    assert.deepEqual(values, one.expected.values);
    for (const name of Object.keys(values).filter((name) => name.includes("/"))) {
      const family = name.startsWith("consignor/signatures/")
        ? "consignor/signatures/"
        : name.replace(/\/.*/, "/");
      const ids = listed(result.record, family).map(({ id }) => family + id);
      assert.ok(ids.includes(name), `${name} is read with its family`);
    }
    const open = result.record.disagreements.map((between) => [
      between.field,
      between.kept.value,
      between.other.value,
      between.settled?.choose ?? null,
    ]);
    assert.deepEqual(open, one.expected.disagreements);
  });
}

test("all that a record is opened with stands on it, as its head or as its first fields", () => {
  const envelope = ["operation_id", "kind", "made_at", "made_by", "device_id", "device_seq"];
  const opening = readdirSync(folder)
    .map((file) => JSON.parse(readFileSync(new URL(file, folder), "utf-8")))
    .flatMap(({ before, given, operation, refused }) => [
      ...before,
      ...given,
      ...(refused ? [] : [operation]),
    ])
    .filter(({ kind }) => kind.startsWith("open_"));
  assert.equal(new Set(opening.map(({ kind }) => kind)).size, 4);
  for (const operation of opening) {
    const { record } = applyOperation(null, operation);
    const { people = [], ...members } = operation;
    const own = `${record.kind}_id`;
    assert.deepEqual([record.record_id, record.opened_at], [operation[own], operation.made_at]);
    for (const person of people)
      assert.deepEqual(record.fields[`people/${person.person_id}`].value, person, operation.kind);
    for (const [name, value] of Object.entries(members))
      if (![...envelope, own].includes(name))
        assert.deepEqual(record[name] ?? record.fields[name]?.value, value, `${operation.kind}.${name}`);
  }
});

test("two pieces of one item that two devices tied to one number are for a person", () => {
  const one = JSON.parse(readFileSync(new URL("tag-tied.json", folder), "utf-8"));
  const [opened] = one.given;
  const tie = (device_id, device_seq, piece) => ({
    ...one.operation,
    operation_id: `${device_id} ${device_seq}`,
    ...{ device_id, device_seq, piece, of: 2 },
  });
  const after = (...operations) =>
    [opened, ...operations].reduce((record, op) => applyOperation(record, op).record, null);
  const said = ({ fields, disagreements }) => [
    fields["tags/7K3QW5"].value.piece,
    disagreements.map(({ field, kept, other }) => [field, kept.value.piece, other.value.piece]),
  ];
  const contested = after(tie("one", 1, 1), tie("two", 9, 2));
  assert.deepEqual(said(contested), [1, [["tags/7K3QW5", 1, 2]]]);
  assert.equal(claimIn(contested.disagreements[0]), null, "it is on no other item");
  assert.equal(valueWords(contested.disagreements[0].other.value), "7K3QW5, piece 2 of 2");
  assert.deepEqual(said(after(tie("one", 1, 1), tie("two", 9, 1))), [1, []], "both say the same");
  assert.deepEqual(said(after(tie("one", 1, 1), tie("one", 2, 2))), [2, []], "its later word");
  assert.deepEqual(said(after(tie("one", 2, 2), tie("one", 1, 1))), [2, []], "in whatever order");
});

test("an app that is older than the office keeps what it does not know", () => {
  // The office's copy may hold fields and members that came with a newer version; an edit must leave them there.
  const said = {
    value: { words: "new" },
    operation_id: "017f22e2-79b0-7cc3-98c4-dc0c0c07398f",
    made_by: "Ana",
    made_at: "2026-03-14T10:05:00.000Z",
    device_id: "d",
  };
  const one = JSON.parse(readFileSync(new URL("value-set.json", folder), "utf-8"));
  const { record } = one.given.reduce((before, operation) => applyOperation(before.record, operation), {
    record: null,
  });
  const newer = { ...record, later_member: 1, fields: { ...record.fields, "later/field": said } };
  const result = applyOperation(newer, one.operation);
  assert.ok("record" in result);
  assert.deepEqual(result.record.fields["later/field"], said);
  assert.equal(result.record.later_member, 1);
});

test("a kind that an older app does not know is refused on the device and changes nothing", () => {
  const one = JSON.parse(readFileSync(new URL("value-set.json", folder), "utf-8"));
  const { record } = one.given.reduce((before, operation) => applyOperation(before.record, operation), {
    record: null,
  });
  const result = applyOperation(record, { ...one.operation, kind: "of_a_later_version" });
  assert.ok("refusal" in result);
  assert.equal(result.refusal.code, "unreadable");
});

test("no id and no digest stands in the words of an operation", () => {
  const ITEM = "019cebae-7d18-7683-87ec-1bf1c85c4675";
  const said = (field, value) => operationWords({ kind: "set_item", item_id: ITEM, field, value });
  assert.doesNotMatch(said("table_id", "019cebae-6a1b-7f0c-8f40-5a2b7c9d1e03"), /019c/);
  assert.doesNotMatch(said("plan_version", "0597af14e6d2"), /0597/);
  assert.match(said("maker", "facade 1904"), /to “facade 1904”/);
});
