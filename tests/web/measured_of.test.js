/** A length of a set says of which of its pieces it is. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lotDescription } from "../../web/job/lot.ts";
import { measuredOf } from "../../web/job/measured_of.ts";
import { record } from "./made.js";
import { book } from "./plan_book.js";

const set = (more = {}) =>
  record("item", "i", { short_description: "part tea set", class_id: "ceramics", pieces: 14, ...more });
const LISTED = {
  "listed/1": { words: "a teapot and cover", count: 1, withdrawn: false },
  "listed/2": { words: "cups", count: 6, withdrawn: false },
};
const height = (basis) => ({ "measures/height": { value: 190, unit: "mm", typed: "190 mm", basis } });
const said = (item) =>
  lotDescription(book.plans.ceramics, book, item)
    .map(({ words }) => words)
    .join(" ");

test("of a set one of each line of its list can have been measured, and of alike pieces each", () => {
  assert.deepEqual(measuredOf(set(LISTED)), ["of the teapot and cover", "of one of the six cups"]);
  assert.deepEqual(measuredOf(set()), ["each"]);
  assert.deepEqual(measuredOf(set({ pieces: 1 })), []);
});

test("what was measured stands behind a length, and nobody asks of which it is", () => {
  assert.match(said(set({ ...LISTED, ...height("") })), /was not noted/);
  for (const [basis, words] of [
    ["of one of the six cups", /Height of one of the six cups 19.0 cm/],
    ["each", /Height each 19.0 cm|Height 19.0 cm .*each/],
  ]) {
    const text = said(set({ ...(basis === "each" ? {} : LISTED), ...height(basis) }));
    assert.match(text, words);
    assert.doesNotMatch(text, /19.0 cm[^;]*not noted/);
  }
});
