/** What a person is shown of two values when another one has come into force since. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { comesIntoForce, same, settlementOf, sidesOf } from "../../web/job/between.ts";
import { chosenAgainWords } from "../../web/job/contested_words.ts";
import { applyOperation } from "../../web/job/record.ts";

const by = (value, operation_id) => ({ value, device_id: "d", operation_id, made_by: "p", made_at: "" });
const between = (field, kept, other) => ({
  disagreement_id: "d1",
  field,
  kept: by(kept, "k"),
  other: by(other, "o"),
  settled: null,
});
const shown = (fields, two) =>
  sidesOf({ fields, disagreements: [two] }, two).map(({ choose, isInForce }) => [choose, isInForce]);

test("of two values the one in force is told, and a third that has come since stands first", () => {
  const two = between("materials", "tin", "brass");
  assert.deepEqual(shown({ materials: by("tin", "k") }, two), [
    ["kept", true],
    ["other", false],
  ]);
  assert.deepEqual(shown({ materials: by("brass", "x") }, two), [
    ["kept", false],
    ["other", true],
  ]);
  assert.deepEqual(shown({ materials: by("copper", "x") }, two), [
    ["standing", true],
    ["kept", false],
    ["other", false],
  ]);
});

test("what stands already comes into force by no settlement, and no value twice", () => {
  const two = between("materials", "tin", "brass");
  const record = { fields: { materials: by("tin", "k") }, disagreements: [two] };
  const comes = ["standing", "kept", "other"].map((choose) => comesIntoForce(record, two, choose));
  assert.deepEqual(comes, [null, null, two.other]);
});

test("a tag that has come off was tied as it was, and one of another item is not put here", () => {
  const tied = (piece, gone = null) => ({ tag: "7K3QW5", piece, of: 2, mark: "", gone, replaced_by: null });
  const two = between("tags/7K3QW5", tied(1), tied(2));
  assert.deepEqual(shown({ "tags/7K3QW5": by(tied(1, "lost"), "k") }, two)[0], ["kept", true]);
  const claimed = between("tags/7K3QW5", { tag: "7K3QW5", item_id: "i" }, tied(1));
  assert.deepEqual(shown({}, claimed)[0], ["kept", true]);
});

test("nobody settles on a number that is gone from the item, as at the office", () => {
  const said = (value, operation_id) => ({ value, operation_id, made_by: "", made_at: "", device_id: "d2" });
  const tied = { tag: "7K3QW5", piece: 1, of: 1, mark: "", gone: null, replaced_by: null };
  const record = (gone) => ({
    kind: "item",
    record_id: "i",
    fields: { "tags/7K3QW5": said({ ...tied, gone }, "o3") },
    disagreements: [
      {
        disagreement_id: "o2",
        field: "tags/7K3QW5",
        kept: said(tied, "o1"),
        other: said({ ...tied, piece: 2 }, "o2"),
        settled: null,
      },
    ],
  });
  const op = {
    kind: "settle_disagreement",
    operation_id: "o4",
    record_id: "i",
    disagreement_id: "o2",
    choose: "other",
    note: "",
    made_at: "",
    device_id: "d1",
    device_seq: 1,
  };
  assert.equal(applyOperation(record("lost"), op).refusal?.code, "tag_spoiled");
  assert.equal(applyOperation(record(null), op).record.fields["tags/7K3QW5"].value.piece, 2);
});

test("a settlement says what its maker had read: the two, what stands, and what else stands beside it", () => {
  const two = { ...between("materials", "tin", "brass"), disagreement_id: "o" };
  const more = (disagreement_id, field, settled = null) => ({ ...two, disagreement_id, field, settled });
  const record = {
    record_id: "i",
    fields: { materials: by("tinplate", "x") },
    disagreements: [more("a", "materials"), two, more("b", "maker"), more("c", "materials", {})],
  };
  assert.deepEqual(settlementOf(record, two, "kept"), {
    ...{ record_id: "i", disagreement_id: "o", kept_id: "k", standing_id: "x", choose: "kept" },
    beside_ids: ["a"],
  });
});

test("whoever settled on the wrong one is told where the other is entered, and of what is not entered nothing", () => {
  for (const field of ["materials", "held_on", "grade", "people/ana", "consignor/name", "zones/rim"])
    assert.match(chosenAgainWords(field), /enter that again/, field);
  for (const field of ["closed", "merged", "whereabouts", "tags/7K3QW5", "cautions/1", "ticket-runs/1"])
    assert.equal(chosenAgainWords(field), "", field);
});

test("after a settlement on the wrong one the other can be entered again, and is in force", () => {
  const [kept, other] = [by("tin", "k"), by("brass", "o")];
  const two = { ...between("materials", "tin", "brass"), disagreement_id: "o", kept, other };
  const record = { kind: "item", record_id: "i", fields: { materials: kept }, disagreements: [two] };
  const envelope = { made_at: "", made_by: "p", device_id: "d" };
  const names = {
    record_id: "i",
    disagreement_id: "o",
    kept_id: "k",
    standing_id: "k",
    choose: "kept",
    note: "",
  };
  const settled = applyOperation(record, {
    ...{ ...envelope, ...names, kind: "settle_disagreement", operation_id: "s", device_seq: 1 },
  });
  const again = applyOperation(settled.record, {
    ...{ ...envelope, kind: "set_item", operation_id: "t", device_seq: 2, item_id: "i" },
    ...{ field: "materials", value: "brass", seen: settled.record.fields.materials.operation_id },
  });
  assert.equal(again.record.fields.materials.value, "brass");
  assert.equal(again.record.disagreements.filter((one) => !one.settled).length, 0);
});

test("nothing is not the same as what has no members", () => {
  for (const other of [null, 5, "", undefined]) assert.equal(same({}, other) || same(other, {}), false);
  assert.equal(same(null, null) && same({}, {}), true);
});
