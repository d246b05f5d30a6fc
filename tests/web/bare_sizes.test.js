/** A number with no unit is taken in the unit last typed on the thing. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  apartFromBasis,
  meantPerhaps,
  otherwise,
  unitKept,
  unitLastTyped,
  unitOfBare,
  withUnit,
} from "../../web/job/bare_sizes.ts";
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

test("a bare number is in the unit at hand, unless no such thing is so large in it", () => {
  const back = { unit: "mm", least: 180, most: 1200 };
  for (const [text, atHand, unit] of [
    ["35.6", "mm", "cm"],
    ["356", "mm", "mm"],
    ["356", "cm", "mm"],
    ["14", "in", "in"],
    ["1.1", "mm", "m"],
    ["9000", "cm", "cm"],
  ])
    assert.equal(unitOfBare(text, atHand, back), unit, text);
  assert.equal(unitOfBare("16", "g", { unit: "g", most: 20_000 }), "g");
  assert.equal(unitOfBare("3", "", { unit: "n", most: 9 }), "");
  assert.equal(unitOfBare("25", "mm", { unit: "mm", most: 1200 }), "mm"); // a plan of before
});

test("what was kept is told by what was kept, not by what was typed beside it since", () => {
  assert.equal(unitKept("25", { value: 25, typed: "25" }, "mm"), "mm");
  assert.equal(unitKept("25", { value: 250, typed: "25" }, "mm"), "cm");
  assert.equal(unitKept("16", { value: 497.66, typed: "16" }, "g"), "oz t");
  assert.equal(unitKept("2", { value: 250, typed: "25" }, "mm"), null);
  assert.equal(unitKept("25 mm", { value: 25, typed: "25 mm" }, "mm"), null);
  assert.equal(unitKept("25", null, "mm"), null);
  assert.equal(otherwise("25", "mm", "in"), "25 in");
});

test("for a size that hardly can be, the same figure in a unit in which it can", () => {
  const back = { unit: "mm", least: 180, most: 1200 };
  assert.equal(meantPerhaps("35.6 mm", back), "35.6 cm");
  assert.equal(meantPerhaps("356 cm", back), "356 mm");
  assert.equal(meantPerhaps("9 ft 2 in", back), "");
  assert.equal(meantPerhaps("9000 m", back), "");
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
