/** Whom an imprint names is said to be what it says of him, and not the author of the book. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lotHeading } from "../../web/job/lot.ts";
import { recordOf, written } from "./any_words.js";
import { answer } from "./as_text.js";
import { book } from "./plan_book.js";

const bookOf = (text, maker = "Barnabas Quire") => ({
  facts: {
    short_description: "county survey",
    maker,
    maker_certainty: "by",
    dates: { words: "1787", earliest: 1787, latest: 1787, edtf: "1787" },
    "marks/0": {
      place: "title leaf",
      technique: "printed",
      colour: "",
      completeness: "complete",
      text,
      reading: "",
    },
  },
});
const heading = (short) => lotHeading(book, recordOf(written(book.plans["book-map"], short))).words;

test("a book that was printed for somebody is not by him", () => {
  const survey = bookOf("Printed for Barnabas Quire, 1787");
  assert.equal(heading(survey), "A county survey, 1787, printed for Barnabas Quire");
  assert.match(answer("book-map", "Which edition", survey), /1787, printed for Barnabas Quire\./);
  assert.match(
    heading(bookOf("Printed and sold by BARNABAS QUIRE")),
    /, printed and sold by Barnabas Quire$/,
  );
  assert.match(heading(bookOf("A survey by Barnabas Quire")), /, by Barnabas Quire$/);
  assert.match(heading(bookOf("Barnabas Quire")), /, by Barnabas Quire$/);
});
