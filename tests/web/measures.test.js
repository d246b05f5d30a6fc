/** Lengths and weights as typed and as shown, against exact fractions; a units library checks the same fixture. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { centimetresOf, inchesOf, readLength, readWeight, troyOuncesOf } from "../../web/job/measures.ts";

const measures = JSON.parse(readFileSync(new URL("../../fixtures/measures.json", import.meta.url), "utf-8"));

for (const { typed, mm, unit } of measures.lengths.cases) {
  test(`length ${typed}`, () => assert.deepEqual(readLength(typed), { mm, unit, typed }));
}
for (const { typed, g, unit } of measures.weights.cases) {
  test(`weight ${typed}`, () => assert.deepEqual(readWeight(typed), { g, unit, typed }));
}

test("what is no size, or may be two, is not read", () => {
  for (const typed of measures.no_length.cases) assert.equal(readLength(typed), null, typed);
  for (const typed of measures.no_weight.cases) assert.equal(readWeight(typed), null, typed);
});

test("inches to a fraction", () => {
  for (const { mm, step, words } of [...measures.inches.cases, ...measures.cataloguing_rule.cases])
    assert.equal(inchesOf(mm, step), words, `${mm} mm`);
  for (const { mm, words } of measures.feet.cases) assert.equal(inchesOf(mm, 16, true), words);
});

test("centimetres and troy ounces to one decimal", () => {
  for (const { mm, words } of measures.centimetres.cases) assert.equal(centimetresOf(mm), words);
  for (const { g, words } of measures.troy_ounces.cases) assert.equal(troyOuncesOf(g), words);
});

test("a fraction shown and read again is within half a step, reduced, and its denominator divides the step", () => {
  for (let mm = 1; mm <= 3000; mm += 1) {
    for (const step of [1, 2, 4, 8, 16]) {
      const words = inchesOf(mm, step);
      if (words.startsWith("under ")) {
        assert.ok(mm * 10 * 2 * step < 254, words);
        continue;
      }
      const [, whole = "0", top = "0", bottom = "1"] = /^(?:(\d+) )?(?:(\d+)\/(\d+) )?in$/.exec(words);
      const steps = (Number(whole) * Number(bottom) + Number(top)) * (step / Number(bottom));
      assert.ok(steps > 0 && step % Number(bottom) === 0, words);
      assert.ok(bottom === "1" || Number(top) % 2 === 1, words);
      assert.ok(Math.abs(steps * 254 - mm * 10 * step) * 2 <= 254, `${mm} mm is not ${words}`);
      assert.equal(readLength(words).mm, Math.floor((2 * steps * 254 + step) / (2 * step)) / 10, words);
      const inFeet = inchesOf(mm, step, true);
      assert.equal(readLength(inFeet).mm, readLength(words).mm, inFeet);
    }
  }
});

test("a length in centimetres as shown is the same length when typed", () => {
  for (let mm = 1; mm <= 3000; mm += 1) assert.equal(readLength(centimetresOf(mm)).mm, mm);
});
