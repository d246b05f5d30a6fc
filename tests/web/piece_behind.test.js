/** Of a thing whose parts have numbers of their own, what was left behind as one of them was scanned. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isBehind } from "../../web/job/piece_behind.ts";

const at = (place, ...inside) => ({ place, at: "", inside: inside.map((record_id) => ({ record_id })) });

test("what has not come as far as the one in hand was left behind", () => {
  assert.ok(isBehind(at("table"), at("van")));
  assert.ok(isBehind(at("van", "crate"), at("store")));
});

test("a lid that is brought to where the set is leaves nothing behind", () => {
  assert.ok(!isBehind(at("store", "crate"), at("store")), "the set stands there in its crate");
  assert.ok(!isBehind(at("store", "crate"), at("van")), "it went ahead");
  assert.ok(!isBehind(at("holding", "box"), at("holding", "crate")), "each is packed");
  assert.ok(!isBehind(at("shelf"), at("store")), "both have come");
});

test("what lies loose beside the crate into which the other went is not in it", () => {
  assert.ok(isBehind(at("table"), at("table", "crate")));
  assert.ok(!isBehind(at("table"), at("table")));
});

test("what is apart in isolation, or with its owner, is named", () => {
  assert.ok(isBehind(at("isolation"), at("store")));
});
