/** The keys under a trial: of what is to work, of a look, and of anything else in the words of its plan. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { keyOfResult, resultsOf, saidByKey } from "../../web/job/test_results.ts";
import { book } from "./plan_book.js";

const keys = (class_id, name, made) => {
  const trial = book.plans[class_id].tests.find((row) => row.test === name);
  return resultsOf(trial, book, made).map(([, words]) => words);
};

test("of what is to work it is said whether it works, and where it does not, what it did not do", () => {
  const didNot = "Not going";
  assert.deepEqual(keys("clock", "is-it-going"), ["Going", "In part", didNot, "Not done"]);
});

test("of a look, whether it was used, and that nothing was seen only where somebody says so", () => {
  assert.deepEqual(keys("painting", "low-light"), [
    "Used, nothing seen",
    "Used, see findings",
    "Used in part",
    "Not used",
  ]);
  assert.deepEqual(keys("ceramics", "ultraviolet"), [
    "Used, nothing seen",
    "Used, see findings",
    "Used in part",
    "Not used",
  ]);
});

test("of breathing on an engraving, what it showed: nobody signs for no ghost by a key that says used", () => {
  assert.deepEqual(keys("silver-plate", "breath"), [
    "Breathed on, and no ghost seen",
    "Breathed on, and part of a ghost showed",
    "Breathed on, and showed a ghost",
    "Not done",
  ]);
});

test("of a count, a turning over or a parting of the pile, whether it was done", () => {
  assert.deepEqual(keys("textile-rug", "knot-count"), [
    "The knots were counted",
    "The knots were counted only in part",
    "Not done",
  ]);
  assert.deepEqual(keys("textile-rug", "part-pile"), [
    "The pile was parted and looked at",
    "The pile was parted only in part",
    "Not done",
  ]);
  assert.deepEqual(keys("textile-rug", "turn-over"), [
    "Turned over and the back seen",
    "Turned over in part, and the back seen in part",
    "Not done",
  ]);
});

test("what came of the others is said as it is printed, and what was said once stays to be read", () => {
  assert.deepEqual(keys("medal-coin", "magnet"), [
    "Not drawn by a magnet",
    "Drawn by a magnet in places",
    "Drawn by a magnet",
    "Not done",
  ]);
  assert.deepEqual(keys("textile-rug", "knot-count", "no-response").at(-2), "No result");
});

test("what is seized, stiff, stops or does nothing was to work, whatever else its plan says of it", () => {
  const trial = {
    test: "crank",
    words: "the crank was turned",
    said: "it was turned",
    failed: "it did not turn",
  };
  for (const term of ["seized", "stiff", "stops", "no-action"]) {
    const rules_out = { zones: ["crank"], terms: [term] };
    assert.equal(resultsOf({ ...trial, rules_out }, book)[0][1], "Works", term);
  }
  const rules_out = { zones: ["crank"], terms: ["scratch"] };
  assert.equal(resultsOf({ ...trial, rules_out }, book)[0][1], "Turned");
});

test("each key says what it is recorded as", () => {
  const results = (class_id, name) =>
    resultsOf(
      book.plans[class_id].tests.find((row) => row.test === name),
      book,
    ).map(([result]) => result);
  assert.deepEqual(results("painting", "low-light"), ["nothing-seen", "works", "works-in-part", "not-done"]);
  assert.deepEqual(results("textile-rug", "knot-count"), ["works", "works-in-part", "not-done"]);
});

test("what a plan has no words for is said plainly, and a result that no words tell is offered once it was given", () => {
  const trial = { test: "look", how: "", said: "it was looked at" };
  const plainly = (made) => resultsOf(trial, book, made).map(([, words]) => words);
  assert.deepEqual(plainly(), ["Looked at", "In part", "Not done"]);
  assert.deepEqual(plainly("no-response"), ["Looked at", "In part", "No result", "Not done"]);
});

test("that a look showed nothing is recorded beside it, and read back; why not is of what was not made alone", () => {
  for (const key of ["nothing-seen", "works", "works-in-part", "not-done"])
    assert.equal(keyOfResult(saidByKey(key, "no-tool")), key);
  assert.deepEqual(saidByKey("nothing-seen", "no-tool"), { result: "works", why: "nothing-seen" });
  assert.deepEqual(saidByKey("works", "no-tool"), { result: "works", why: "" });
  assert.deepEqual(saidByKey("not-done", "no-tool"), { result: "not-done", why: "no-tool" });
});
