/**
 * What stands beside something else in print is not lost for that. Source: common practice, a bidder is told each fault
 * and each thing that was looked for.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, paragraph } from "./as_text.js";

test("of a set it is said which of it nobody noted, also where more bears on the question than it asks", () => {
  const chip = { zone: "rim", term: "chip", severity: 2 };
  const filled = { zone: "foot", term: "filled", severity: 2 };
  const said = (...findings) => answer("glass", "Are rim", { facts: { pieces: 6 }, findings });
  const open = (text) => text.match(/Not noted: which of the six [^.]*\./g);
  assert.deepEqual(open(said(chip)), ["Not noted: which of the six the chip is on."]);
  assert.deepEqual(open(said(chip, filled)), ["Not noted: which of the six the faults are on."]);
});

test("what was looked for on a zone alone is said beside what was looked for on the whole thing", () => {
  const denials = (...of) =>
    paragraph("ceramics", { denials: of.map(([zone, term]) => [zone, term, "lamp"]) });
  const crack = ["outline", "crack"];
  assert.match(denials(crack, ["rim", "crack"], ["rim", "chip"]), /\bchip seen on the rim under a lamp\./);
  assert.doesNotMatch(denials(crack, ["rim", "crack"]), /\bseen on the rim\b/, "and the same but once");
});

for (const origin of ["restored", "repaired", "refinished", "altered"])
  test(`that a part was ${origin} does not tell whether the parts belong together`, () => {
    const said = answer("clock", "Do movement", { origins: { case: [origin, ""], dial: [origin, ""] } });
    assert.match(said, /the movement, the dial and the case belong together was not noted/);
  });
