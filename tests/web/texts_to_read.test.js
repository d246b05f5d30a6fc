/** The file of texts is read beside the screens: whoever reads must find what a text is of. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";
import { textsToRead } from "./texts_to_read.js";

const HEAD = "032-M9G | Glass | cut decanter";

test("each text stands under the tag, the class and the name of its thing", () => {
  const facts = { short_description: "cut decanter", class_id: "glass", "tags/1": { tag: "032M9G" } };
  const lines = textsToRead(recordOf(written(book.plans.glass, { facts }))).split("\n");
  assert.equal(lines[0], `== ${HEAD}`);
  const heads = lines.filter((line) => line.startsWith("-- "));
  assert.deepEqual(
    heads,
    ["Heading", "Description", "Condition", "What bidders ask"].map((text) => `-- ${text} | ${HEAD}`),
  );
});

test("what has no tag, class or name says so", () => {
  assert.equal(textsToRead(recordOf({})), "== no tag | no class | not named yet");
});
