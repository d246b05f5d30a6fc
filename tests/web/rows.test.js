/** What a desk's list makes of a thing that has changed. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isCountedOtherwise } from "../../web/job/rows.ts";

const ROW = {
  entry_seq: 7,
  item_id: "a",
  state: "waiting",
  class_id: "ceramics",
  table_id: "t1",
  worst: 2,
  caution: null,
  held_apart: 0,
  disagreement_count: 1,
  tags: ["7K3QW5"],
  photo_count: 1,
  short_description: "a jar",
};

for (const change of [
  { state: "picked-up" },
  { class_id: "glass" },
  { table_id: "t2" },
  { worst: null },
  { caution: "red" },
  { held_apart: 1 },
  { disagreement_count: 0 },
  { tags: [] },
  { photo_count: 0 },
  { short_description: "" },
])
  test(`a thing that has changed is counted otherwise: ${JSON.stringify(change)}`, () => {
    assert.equal(isCountedOtherwise(ROW, { ...ROW, ...change }), true);
  });

test("another word for a thing or one more of what it has is counted as before", () => {
  const more = { short_description: "a brown jar", photo_count: 2, disagreement_count: 2, entry_seq: 7 };
  assert.equal(isCountedOtherwise(ROW, { ...ROW, ...more }), false);
});
