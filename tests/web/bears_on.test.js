/** A fault stands in the answer that it decides, and what is asked for is answered: each case as it should read. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one } from "./as_text.js";

test("a title leaf that was made good bears on whether a book is complete", () => {
  const made = one("title-leaf", "filled", { extent_mm: 20, note: "lower corner" });
  const whole = answer("book-map", "Is it complete", made);
  assert.match(whole, /The title leaf is made good/);
  assert.doesNotMatch(whole, /Nothing[^.]*the title leaf/);
});

test("a book out of shape, a warped top and a hole in the bellows are told where they matter", () => {
  const book = answer("book-map", "Is the binding", one("outline", "distortion"));
  assert.match(book, /^The whole is out of shape\./);
  const top = answer("furniture", "Does it open", one("top", "warp"));
  assert.match(top, /The top is warped\./);
  const bellows = answer("camera-scientific", "Does shutter", one("bellows", "hole", { extent_mm: 1 }));
  assert.match(bellows, /A hole of 1 mm in the bellows\./);
  assert.doesNotMatch(answer("camera-scientific", "Does shutter", {}), /bellows/);
});

test("whether the lacquer is original is asked for beside what was polished, and not of what has none", () => {
  const asked = (short) => answer("camera-scientific", "Is the lacquer", short);
  const polished = one("body", "over-cleaned");
  assert.match(asked(polished), /Whether the metalwork has its original lacquer is not determined\./);
  const bare = asked({ ...polished, not_there: ["finish-metal"] });
  assert.match(bare, /It has no lacquer or other finish on metal\./);
  assert.doesNotMatch(bare, /not determined/);
});

test("gilding is told of where worn plating is asked for", () => {
  const asked = (short) => answer("silver-plate", "Is it silver", short);
  assert.match(asked({ not_there: ["plating"] }), /Nothing to report on the gilding/);
  assert.match(asked(one("gilding", "wear")), /gilding/);
  const none = asked({ not_there: ["plating", "gilding"] });
  assert.match(none, /no marks were copied|The marks were not copied/i);
  assert.doesNotMatch(none, /gilding/);
});
