/** How typed names and dates are printed: cases that a library of inflections checks as well, in tests/examination. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { countInWords, listInWords, spelled } from "../../web/job/english.ts";
import { lotHeading } from "../../web/job/lot.ts";
import { recordOf } from "./any_words.js";
import { book } from "./plan_book.js";

const { names, dates } = JSON.parse(
  readFileSync(new URL("../../fixtures/names.json", import.meta.url), "utf-8"),
);

const headingOf = (values) => lotHeading(book, recordOf({ short_description: "thing", ...values })).words;

for (const [typed, printed] of names)
  test(`"${typed}" is printed "${printed}"`, () => {
    assert.equal(headingOf({ short_description: typed }), printed);
  });

test("a date that hedges already is not hedged again, but for what is only possible", () => {
  for (const [{ words, certainty }, printed] of dates) {
    const date = { words, earliest: null, latest: null, edtf: null };
    assert.equal(headingOf({ dates: date, dates_certainty: certainty }), `A thing, ${printed}`);
  }
});

test("counts are words to twelve, figures after, and words where a sentence begins", () => {
  assert.deepEqual(
    [1, 2, 12, 13, 99, 100].map((count) => countInWords(count)),
    ["one", "two", "twelve", "13", "99", "100"],
  );
  assert.deepEqual(
    [13, 19, 20, 40, 99, 100].map((count) => countInWords(count, true)),
    ["thirteen", "nineteen", "twenty", "forty", "ninety-nine", "100"],
  );
  assert.equal(spelled(21), "twenty-one");
  assert.equal(listInWords(["a", "b", "c"], "or"), "a, b or c");
});
