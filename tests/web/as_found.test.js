/** What is printed says neither more nor less than is on record: no part that nobody saw, and no look passed over. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

const called = (short_description, more = {}) => ({ ...more, facts: { short_description } });

test("nothing is told of a part or a kind that nobody recorded", () => {
  const eyes = "Whether the eyes open and close was not tried.";
  assert.ok(paragraph("doll", {}).includes(` ${eyes}`), paragraph("doll", {}));
  assert.ok(answer("doll", "Do the eyes work", {}).includes(eyes));
  assert.match(answer("book-map", "Which edition", {}), /No imprint was copied\./);
  assert.match(paragraph("jewellery", called("seventeen brooches")), / Settings not touched\./);
  assert.match(paragraph("jewellery", called("ring")), / Setting not touched\./);
  assert.match(
    answer("silver-plate", "Is it silver", {}),
    /^Whether it is silver or plate is not determined, and no wear to another metal was noted\. (?!.*plating)/,
  );
  assert.match(answer("silver-plate", "Is it silver", one("plating", "plating-loss")), / It is plated\./);
});
