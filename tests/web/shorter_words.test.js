/** What a cataloguer would say in fewer words, and what he would not say at all: case by case. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";

test("that no other fault was noted is said in few words, and the light only where there were several", () => {
  const of = (more = {}) => answer("glass", "Are rim", { ...one("rim", "chip", { extent_mm: 2 }), ...more });
  assert.match(
    of(),
    /^A chip of 2 mm to the rim\. No further fault noted on the lip, the foot or the base\.$/,
  );
  assert.match(
    of({ lights: { foot: "loupe" } }),
    /No further fault noted on the lip or the base under a lamp\./,
  );
  assert.match(of({ lights: { foot: "loupe" } }), /No further fault noted on the foot through a x10 loupe\./);
});

test("of a fault whose piece nobody noted its name is said, in the answer as in the text", () => {
  const pair = { facts: { short_description: "pair of decanters", pieces: 2 } };
  const stained = { ...pair, ...one("inside", "stain", { extent_count: 2 }) };
  assert.match(answer("glass", "Is it cloudy", stained), /Not noted: which of the two the stains are on\./);
  const train = (zone, short_description = "clockwork train") =>
    paragraph("tinplate-diecast", { facts: { short_description, pieces: 9 }, ...one(zone, "no-action") });
  assert.doesNotMatch(train("clockwork"), /Not noted: .*which of the nine/);
  assert.match(train("clockwork", "nine clockwork toys"), /Not noted: .*which of the nine/);
  assert.match(train("action"), /Not noted: .*which of the nine/);
});

test("what goes on by itself is said in a sentence of its own", () => {
  const rot = { findings: [{ zone: "stress", term: "fibre-rot", severity: 2, activity: "P" }] };
  assert.match(paragraph("textile-rug", rot), /\. The perished places under strain may get worse\. /);
});

test("places where marks were looked for are read out as a list", () => {
  const looked = (marks_looked) => answer("free", "What do the marks", { facts: { marks_looked } });
  assert.match(
    looked("back of the head, nape, shoe soles"),
    /on the back of the head, the nape and the shoe soles\./,
  );
  assert.match(looked("under the block, under the legs"), /looked for under the block and under the legs\./);
  assert.match(looked("on the base and the back"), /looked for on the base and the back\./);
});
