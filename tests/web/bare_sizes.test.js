/** A number with no unit is taken in the unit last typed on the thing. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { apartFromBasis, otherwise, unitLastTyped, withUnit } from "../../web/job/bare_sizes.ts";
import { readWeight } from "../../web/job/measures.ts";

const MEASURES = [{ measure: "height", most: 2000 }];
/** A thing with these sizes, typed one after the other. */
function thing(...sizes) {
  const fields = sizes.map(([measure, typed, value, unit = "mm"], at) => [
    `measures/${measure}`,
    { value: { typed, value, unit }, made_at: `2031-05-04T10:0${at}:00Z` },
  ]);
  return { fields: Object.fromEntries(fields), disagreements: [] };
}
const last = (...sizes) => unitLastTyped(thing(...sizes), MEASURES, "mm");

test("the unit last typed on this thing, else the house's", () => {
  assert.equal(last(), "mm");
  assert.equal(last(["height", "25,4 cm", 254]), "cm");
  assert.equal(last(["height", "25,4 cm", 254], ["width", "4 7/8 in", 123.8]), "in");
  assert.equal(last(["width", "4 in", 101.6], ["height", "25,4 cm", 254]), "cm");
  assert.equal(last(["weight", "518 g", 518, "g"]), "mm");
  assert.equal(unitLastTyped(thing(["weight", "16 oz t", 497.66, "g"]), MEASURES, "g"), "oz t");
  assert.equal(unitLastTyped(thing(["height", "25,4 cm", 254]), MEASURES, "n"), "");
});

test("a size that is none, has no unit, or is beyond its measure says nothing of the next", () => {
  assert.equal(last(["height", "12 m", 12000]), "mm");
  assert.equal(last(["height", "25 cm", 250], ["width", "", null], ["depth", "14", 14]), "cm");
});

test("only a bare number is given a unit, and the other is a press away", () => {
  assert.deepEqual(
    ["14", " 14,5 ", "14 in", "1/4", ""].map((text) => withUnit(text, "cm")),
    ["14 cm", "14,5 cm", "14 in", "1/4", ""],
  );
  assert.equal(withUnit("3", ""), "3");
  assert.deepEqual(
    [otherwise("14", "cm"), otherwise("14", "mm"), otherwise("5", "in")],
    ["14 mm", "14 cm", "5 cm"],
  );
});

test("a weight or a length typed with what it is of is both", () => {
  const bases = ["gross", "net", "with cresting", "without cresting"];
  for (const [typed, size, basis] of [
    ["518 g gross", "518 g", "gross"],
    ["518 g, Gross.", "518 g", "gross"],
    ["518 g (net)", "518 g", "net"],
    ["518 net", "518", "net"],
    ["gross: 16.7 oz t", "16.7 oz t", "gross"],
    ["1.2 m without cresting", "1.2 m", "without cresting"],
    ["518 g", "518 g", ""],
    ["518 g grossly", "518 g grossly", ""],
    ["gross", "gross", ""],
    ["", "", ""],
  ])
    assert.deepEqual(apartFromBasis(typed, bases), { size, basis }, typed);
  assert.deepEqual(apartFromBasis("518 g gross", []), { size: "518 g gross", basis: "" });
  assert.equal(readWeight(apartFromBasis("518 g gross", bases).size)?.g, 518);
});
