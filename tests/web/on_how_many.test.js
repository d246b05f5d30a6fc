/** Of words of a piece alone it is told on how many pieces something is, or nobody can know it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { countMeant } from "../../web/job/on_how_many.ts";
import { record } from "./made.js";

const tools = record("item", "i", {
  pieces: 5,
  "listed/1": { words: "mallet", count: 1, withdrawn: false },
  "listed/2": { words: "chisels", count: 2, withdrawn: false },
  "listed/3": { words: "pair of pliers", count: 1, withdrawn: false },
});

test("a word of one piece is one, and words of so many are so many", () => {
  for (const words of [
    "the mallet",
    "Mallet",
    "the brace",
    "the bent one",
    "the box of nails",
    "pair of pliers",
  ])
    assert.equal(countMeant(tools, words), 1, words);
  assert.equal(countMeant(tools, "two planes"), 2);
  assert.equal(countMeant(tools, "glass"), 1);
});

test("of words of more that do not say how many nobody knows it", () => {
  for (const words of ["chisels", "the bent ones", "both", "all of them", "the mallet and the brace"])
    assert.equal(countMeant(tools, words), null, words);
  assert.equal(countMeant(tools, " "), null);
});
