/** What a person is shown of two values when another one has come into force since. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { sidesOf } from "../../web/job/between.ts";

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

test("a tag that has come off was tied as it was, and one of another item is not put here", () => {
  const tied = (piece, gone = null) => ({ tag: "7K3QW5", piece, of: 2, mark: "", gone, replaced_by: null });
  const two = between("tags/7K3QW5", tied(1), tied(2));
  assert.deepEqual(shown({ "tags/7K3QW5": by(tied(1, "lost"), "k") }, two)[0], ["kept", true]);
  const claimed = between("tags/7K3QW5", { tag: "7K3QW5", item_id: "i" }, tied(1));
  assert.deepEqual(shown({}, claimed)[0], ["kept", true]);
});
