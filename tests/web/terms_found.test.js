/** Which terms are offered for words as they are typed at the table. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { termsFound } from "../../web/job/terms_found.ts";
import { book } from "./plan_book.js";

const BODY = { zone: "body", words: "body", usual: ["chip", "hairline", "crack"] };

const found = (words, zone = BODY) => termsFound(book.vocabulary.terms, zone, words).map(({ term }) => term);

test("words that no name has together find what each of them finds, and first what has them all", () => {
  const terms = found("hairline crack");
  assert.equal(terms[0], "hairline"); // "hair crack" is its other name
  assert.ok(terms.includes("crack"));
  assert.ok(found("rusty hole").includes("hole"));
});

test("what begins with the word stands before what only has it inside", () => {
  assert.deepEqual(found("rust").slice(0, 2).sort(), ["corrosion-active", "corrosion-stable"]);
  assert.ok(found("rust").includes("battery-leak")); // "crusty terminals"
});

test("where one name has all the words, nothing is offered that has some of them", () => {
  assert.deepEqual(found("missing part"), ["missing-part"]);
});

test("the zone's own name is in no term, and a short word finds nothing of its own", () => {
  assert.deepEqual(found("replaced wig", { zone: "wig", words: "wig", usual: [] }), found("replaced"));
  assert.deepEqual(found("hairline in"), found("hairline"));
});

test("words that no term has find none", () => {
  assert.deepEqual(found("xylophone"), []);
});
