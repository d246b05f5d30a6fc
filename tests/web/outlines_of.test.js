/** Which drawings of its class show a thing, by what it is called. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { outlinesOf } from "../../web/job/outlines_of.ts";
import { book } from "./plan_book.js";

const shown = (class_id, name) => {
  const set = { value: name, operation_id: "", made_by: "", made_at: "", device_id: "" };
  const fields = name === undefined ? {} : { short_description: set };
  const item = { kind: "item", record_id: "i", disagreements: [], fields };
  return outlinesOf(book, book.plans[class_id], item).map(({ outline }) => outline);
};

test("a pocket watch is drawn as one, and no other watch is", () => {
  assert.deepEqual(shown("watch", "silver pocket watch, open face"), ["pocket", "back"]);
  assert.deepEqual(shown("watch", "Two Hunters"), ["pocket", "back"]);
  assert.deepEqual(shown("watch", "steel wristwatch with strap"), ["front", "back"]);
});

test("a rug has no side of a coat, and a coat has its own", () => {
  assert.deepEqual(shown("textile-rug", "wool runner, blue ground"), ["front", "back"]);
  assert.deepEqual(shown("textile-rug", "silk evening dress"), ["costume", "costume-back"]);
});

test("a monkey has its tail and no bear's ears, and no other soft toy is drawn as one", () => {
  assert.deepEqual(shown("soft-toy", "monkey in a knitted jumper"), ["monkey", "monkey-back"]);
  assert.deepEqual(shown("soft-toy", "teddy bear"), ["front", "back"]);
  assert.deepEqual(shown("soft-toy", ""), ["front", "back"]);
  const zones = new Set(
    book.outlines["soft-toy"].find(({ outline }) => outline === "monkey").shapes.map((s) => s.zone),
  );
  assert.ok(zones.has("tail"));
});

test("a dog, a cat and a rabbit have their own ears and tail, and a bear is none of them", () => {
  const named = [
    ["dog", "small felt dog", "terrier with a collar", "two puppies"],
    ["cat", "black velvet cat"],
    ["rabbit", "velveteen rabbit on all fours", "bunny"],
  ];
  for (const [of, ...names] of named)
    for (const name of names) assert.deepEqual(shown("soft-toy", name), [of, `${of}-back`], name);
  for (const name of ["mohair bear", "category of its own"])
    assert.deepEqual(shown("soft-toy", name), ["front", "back"], name);
});

test("what has no name yet is drawn as most of its class are", () => {
  assert.deepEqual(shown("watch", ""), ["front", "back"]);
  assert.deepEqual(shown("textile-rug", undefined), ["front", "back"]);
  assert.deepEqual(shown("textile-rug", " "), ["front", "back"]);
});
