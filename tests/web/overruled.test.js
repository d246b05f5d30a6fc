/** Whoever's value gave way hears of it on the device on which it was said, and nobody else does. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { overruledOn } from "../../web/job/overruled.ts";

const by = (value, device_id) => ({ value, device_id, operation_id: "o", made_by: "p", made_at: "" });
const settled = (choose) => ({ choose, made_by: "ivo", made_at: "", operation_id: "s" });
const between = (choose, disagreement_id = "d1") => ({
  disagreement_id,
  field: "maker",
  kept: by("unmarked", "table 1"),
  other: by("marked", "table 2"),
  settled: choose && settled(choose),
});
const item = (disagreements, fields = {}) => ({
  kind: "item",
  record_id: "i",
  day_id: "d",
  fields,
  disagreements,
});

test("the value that gave way is told where it was said, with the reason", () => {
  const note = { "settlement-notes/d1": by("seen in the hand", "desk") };
  const [told, ...more] = overruledOn([item([between("kept")], note)], "table 2", new Set());
  assert.deepEqual(more, []);
  assert.deepEqual(
    [told.said.value, told.holds.value, told.note],
    ["marked", "unmarked", "seen in the hand"],
  );
  assert.equal(told.settled_by, "ivo");
  assert.deepEqual(overruledOn([item([between("kept")], note)], "table 1", new Set()), [], "its value holds");
  const [without, ...none] = overruledOn([item([between("other")])], "table 1", new Set());
  assert.deepEqual([without.note, none], ["", []], "nobody wrote why");
});

test("what is open is not told, and what was seen is not told again", () => {
  assert.deepEqual(overruledOn([item([between(null)])], "table 2", new Set()), []);
  assert.deepEqual(overruledOn([item([between("kept")])], "table 2", new Set(["d1"])), []);
});

test("where what came after both stays, either side hears of it", () => {
  const now = { maker: by("marked inside", "desk") };
  for (const device of ["table 1", "table 2"]) {
    const [told] = overruledOn([item([between("standing")], now)], device, new Set());
    assert.equal(told.holds.value, "marked inside");
  }
});

test("whoever gave up a value of their own is not told of it", () => {
  const own = { ...between("kept"), settled: { ...settled("kept"), made_by: "p" } };
  assert.deepEqual(overruledOn([item([own])], "table 2", new Set()), []);
  const nobodys = { ...own, other: { ...own.other, made_by: "" }, settled: { ...own.settled, made_by: "" } };
  assert.equal(overruledOn([item([nobodys])], "table 2", new Set()).length, 1, "nobody knows who that was");
});
