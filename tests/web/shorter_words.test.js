/** What a cataloguer would say in fewer words, and what he would not say at all: case by case. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one } from "./as_text.js";

test("that no other fault was noted is said in few words, and the light only where there were several", () => {
  const of = (more = {}) => answer("glass", "Are rim", { ...one("rim", "chip", { extent_mm: 2 }), ...more });
  assert.match(
    of(),
    /^A chip of 2 mm to the rim\. No other fault noted on the lip, the foot and the base\.$/,
  );
  assert.match(
    of({ lights: { foot: "loupe" } }),
    /No other fault noted on the lip and the base under a lamp\./,
  );
  assert.match(of({ lights: { foot: "loupe" } }), /No other fault noted on the foot through a loupe x10\./);
});
