/** What a receipt lacks before it can be signed. The words are our own. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lackingToSign } from "../../web/job/to_sign_first.ts";

const ENTERED = { house_by: "Ines", signed_by: "", strokes: "M1 1L2 2", on_paper: "" };
const lacking = (more = {}, entered = {}) =>
  lackingToSign({
    what: "taken-back",
    lines: 1,
    untied: 0,
    isOfAnother: false,
    toOwner: false,
    hasLeft: false,
    ...more,
    entered: { ...ENTERED, ...entered },
  });

test("nobody takes a thing back without a name, whatever was drawn", () => {
  assert.equal(lacking(), "Say who takes it back");
  assert.equal(lacking({ toOwner: true }), "Your name is missing");
  assert.equal(lacking({}, { signed_by: "  " }), "Say who takes it back");
  assert.equal(lacking({}, { signed_by: "Petronella" }), "");
  assert.equal(lacking({}, { signed_by: "Petronella", strokes: "", on_paper: "pad 3" }), "");
  assert.equal(
    lacking({}, { signed_by: "Petronella", strokes: "" }),
    "The owner has not signed",
    "a name is no signature",
  );
});

test("an owner who leaves things signs as they do, named or not", () => {
  assert.equal(lacking({ what: "left" }), "");
  assert.equal(lacking({ what: "left", untied: 2 }), "Tie a tag to 2 things first");
  assert.equal(lacking({ what: "left", lines: 0 }), "Nothing is here to sign for");
  assert.equal(lacking({ what: "left" }, { house_by: " " }), "Say who signs for the house");
  assert.equal(lacking({ what: "left", isOfAnother: true }, { strokes: "" }), "Read it again and sign");
});

test("who comes back to sign once the visit has ended is named", () => {
  const back = { what: "left", hasLeft: true };
  assert.equal(lacking(back), "Say who signs");
  assert.equal(lacking({ ...back, toOwner: true }, { signed_by: " " }), "Your name is missing");
  assert.equal(lacking(back, { signed_by: "Petronella" }), "");
});
