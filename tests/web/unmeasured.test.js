/** A fault that nobody measured is told as such; one that is not there is not. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { unmeasured } from "../../web/job/unmeasured.ts";
import { finding } from "./any_words.js";
import { book } from "./plan_book.js";

const said = (...faults) =>
  unmeasured(
    { book },
    faults.map((more) => ({
      keys: [],
      about: [finding({ zone: "rim", term: "crack", severity: 2, ...more })],
    })),
  ).map(({ words }) => words);

test("what nobody measured is told, each sort once", () => {
  assert.deepEqual(said({}), ["The crack was not measured."]);
  assert.deepEqual(said({ extent_count: 2 }), ["The cracks were not measured."]);
  assert.deepEqual(said({}, { extent_mm: 5 }), ["The other crack was not measured."]);
  assert.deepEqual(said({}, { term: "chip" }), ["The crack and the chip were not measured."]);
});

test("what was measured, is not there or is not certain to be has no length to tell", () => {
  for (const more of [
    { extent_mm: 5 },
    { note: "about 3 cm" },
    { severity: 0 },
    { certainty: "not-determined" },
  ])
    assert.deepEqual(said(more), [], JSON.stringify(more));
});
