/** Words that a cataloguer would sign: cases that once read like a form that was filled in, one by one. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

const called = (short_description, more = {}) => ({ facts: { short_description }, ...more });
const without = (...zones) => ({ not_there: zones });

test("what of flatware is bent keeps its place, whatever it is", () => {
  const bent = one("tines-blades", "bent", { extent_count: 1, severity: 1 });
  assert.match(
    paragraph("silver-plate", called("canteen of flatware, 64 pieces", bent)),
    /\. One set of tines, bowl or blade is slightly bent\./,
  );
  const denied = { denials: [["tines-blades", "split", "lamp"]] };
  assert.match(
    paragraph("silver-plate", called("canteen of flatware", denied)),
    /No split seen in the tines, bowls and blades under a lamp\./,
  );
});

test("breath is on the surface, of one thing and of 64", () => {
  const breathed = { tests: { breath: ["works", "", ""] }, lights: { engraving: "breath" } };
  for (const name of ["canteen of flatware, 64 pieces", "six forks", "jug"])
    assert.match(paragraph("silver-plate", called(name, breathed)), /by breathing on the surface\.$/);
});

test("mould is in a finder", () => {
  const denied = { denials: [["finder", "mould", "torch"]] };
  assert.match(paragraph("camera-scientific", denied), /No mould seen in the finder with a torch\./);
});

test("a guitar has no button", () => {
  const of = (name) => answer("stringed-instrument", "How long is the back", called(name));
  assert.match(of("guitar"), /Length of the back and scale length not taken\./);
  assert.match(of("violin"), /Length of the back without button and string length not taken\./);
});

test("which part is from another glass is no answer to chips, and one to the stopper", () => {
  const looked = { tests: { ultraviolet: ["works", "", "glows green all over"] } };
  assert.doesNotMatch(answer("glass", "Are rim and foot", looked), /ultraviolet/);
  assert.match(answer("glass", "Does the stopper", looked), /under ultraviolet for parts from another glass/);
  const skipped = { tests: { ultraviolet: ["not-done", "no-time", ""] } };
  assert.doesNotMatch(answer("glass", "Are rim and foot", skipped), /[Uu]ltraviolet/);
  const open = { ...looked, ...without("stopper", "stopper-peg") };
  assert.equal(answer("glass", "Does the stopper", open), "It has no stopper.");
});
