/** A mark stands on the zone that it was copied from, also where that is clear. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { marksByZone } from "../../web/job/marks_on.ts";
import { record } from "./made.js";
import { book } from "./plan_book.js";

const MARK = { technique: null, colour: "", completeness: "complete", reading: "", withdrawn: false };
const on = (class_id, marks) => {
  const fields = Object.entries(marks).map(([place, more], at) => [
    `marks/${at}`,
    { ...MARK, place, text: `at ${place}`, ...more },
  ]);
  const found = marksByZone(book.plans[class_id], record("item", "i", Object.fromEntries(fields)));
  return Object.fromEntries([...found].map(([key, those]) => [key, those.map(({ place }) => place)]));
};

test("what is written on a dial stands on the zone of names, and what is behind it on that of its place, too", () => {
  assert.deepEqual(on("clock", { dial: {} }), { signature: ["dial"] });
  assert.deepEqual(on("clock", { "back-plate": {} }), {
    signature: ["back-plate"],
    movement: ["back-plate"],
  });
});

test("of two zones for any mark it stands on the one that its place names", () => {
  assert.deepEqual(on("stringed-instrument", { inside: {}, "above the frog of the bow": {} }), {
    inside: ["inside"],
    label: ["inside"],
    "bow-stick": ["above the frog of the bow"],
    "bow-brand": ["above the frog of the bow"],
  });
});

test("a mark that was withdrawn, or of which nobody has written anything, stands nowhere", () => {
  const blank = { text: "", completeness: null };
  assert.deepEqual(on("ceramics", { "inside a cover": { withdrawn: true }, "on its foot": blank }), {});
  assert.deepEqual(on("ceramics", { "centre of the underside": {} }), {
    underside: ["centre of the underside"],
    mark: ["centre of the underside"],
  });
});
