/** What a bidder would be told wrongly, or in words that nobody signs, where two things on record meet. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";

const named = (short_description, more = {}) => ({ facts: { short_description, ...more } });

test("what is said to be original and was found to be changed is neither printed twice nor dropped", () => {
  const seat = (more, origin = "original") => ({ ...one("upholstery", "re-covered", more), origins: { upholstery: [origin, ""] } });
  assert.match(
    paragraph("furniture", seat()),
    /The upholstery is re-covered\. That the upholstery is original as far as can be seen is recorded as well; which of the two is right is not settled\./,
  );
  const cases = [
    ["book-map", "spine", "rebound"],
    ["ceramics", "gilding", "re-plated"],
    ["ceramics", "cover", "associated-part"],
    ["doll", "hair", "replaced-part"],
  ];
  for (const [class_id, zone, term] of cases) {
    const text = paragraph(class_id, { ...one(zone, term), origins: { [zone]: ["original-probably", ""] } });
    assert.match(text, / is apparently original is recorded as well; which of the two is right is not settled\./);
    assert.equal(text.match(/original/g).length, 1);
  }
  // What was changed in part leaves the rest as it was said to be.
  const handles = { ...one("handles", "replaced-part"), origins: { handles: ["original-probably", ""] } };
  assert.match(paragraph("furniture", handles), /One or more handles are replaced\. .*The handles are otherwise apparently original\./);
  assert.match(paragraph("furniture", seat({ extent_percent: 20 })), /The upholstery is otherwise original as far/);
  assert.match(paragraph("furniture", seat({}, "later")), /The upholstery is later\./);
});
