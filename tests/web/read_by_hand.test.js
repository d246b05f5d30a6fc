/**
 * Records of single classes read through beside their texts, as a bidder reads them.
 * Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

const lost = (class_id, zone, extent_count, note, counts = {}) =>
  paragraph(class_id, { counts, ...one(zone, "missing-part", { extent_count, note }) });

test("a note that says which, how many or how makes no part of what is missing", () => {
  for (const note of ["both", "going and striking", "both; the owner may have them"])
    assert.match(lost("clock", "weights", 2, note), /Two weights are missing/, note);
  const stone = lost("jewellery", "side-stones", 1, "second from the upper point", { "side-stones": 23 });
  assert.match(stone, /One of the 23 side stones is missing \(second from the upper point\)\./);
  for (const note of ["cut out of the envelopes", "stamps cut out"])
    assert.match(
      lost("work-on-paper", "seals", 9, note),
      /Nine seals, postmarks or stamps are missing/,
      note,
    );
  assert.match(
    lost("tinplate-diecast", "figures", 1, "the driver"),
    /One figure is missing \(the driver\)\./,
  );
  assert.match(
    lost("furniture", "drawers", 1, "with its lock", { drawers: 9 }),
    /One of the nine drawers is/,
  );
  assert.match(lost("furniture", "handles", 2, "both of the top drawer"), /Two handles are missing/);
  assert.match(lost("furniture", "feet", 1, "a castor"), /One part missing from the feet \(a castor\)\./);
});

test("what is asked of the finish of the metal is answered of that, and not of the metal parts", () => {
  const judged = { origins: { "finish-metal": ["original-probably", ""] } };
  assert.match(paragraph("camera-scientific", judged), /The finish of the metal is apparently original\./);
  assert.doesNotMatch(answer("camera-scientific", "Is the lacquer", judged), /metalwork/);
});

test("a ground that is rotten bears on whether a rug is whole", () => {
  const rotten = one("ground", "fibre-rot", { severity: 3, extent_percent: 5, activity: "P" });
  const repairs = answer("textile-rug", "Are there repairs", rotten);
  assert.match(repairs, /^The ground is perished over about 5 per cent\./);
  assert.doesNotMatch(repairs, /or the ground/);
});

const weighed = (basis) => ({ "measures/weight": { value: 612, unit: "g", typed: "612", basis } });
const silver = (facts, more = {}) =>
  answer("silver-plate", "What does it weigh", { facts: { short_description: "bowl", ...facts }, ...more });

test("the basis of a weight and the materials say whether it is loaded, and ounces troy are of silver alone", () => {
  for (const facts of [weighed("loaded"), { materials: "silver, filled" }])
    assert.match(silver(facts), /Loaded or filled in part, and so not weighable\./);
  assert.doesNotMatch(silver(weighed("loaded")), /oz t|not noted: loaded|Whether it is loaded/);
  assert.match(silver(weighed("weighable")), /oz t\) weighable/);
  assert.doesNotMatch(silver(weighed("weighable")), /Whether it is loaded|on the loading/);
  assert.match(silver(weighed("gross")), /Whether it is loaded or filled in part was not noted\./);
});

test("plate is said not to be weighable silver where that is asked", () => {
  const worn = one("plating", "plating-loss");
  assert.match(silver({}, worn), /It is plated, and so not weighable silver\./);
  assert.doesNotMatch(silver({ materials: "silver" }, { not_there: ["plating"] }), /weighable silver/);
});

const n = (value) => ({ value, unit: "n", typed: String(value) });
const letters = (begins, facts, more = {}) =>
  answer("work-on-paper", begins, { facts: { short_description: "bundle of letters", ...facts }, ...more });

test("stamps that are missing leave open whether a sheet is", () => {
  const stamps = one("seals", "missing-part", { extent_count: 9 });
  assert.match(letters("Is it complete", {}, stamps), /Whether it is complete was not noted\./);
  const sheet = one("sheets", "leaf-missing", { extent_count: 1 });
  assert.doesNotMatch(letters("Is it complete", {}, sheet), /Whether it is complete/);
});

test("what was counted is not said to be uncounted beside it", () => {
  const counted = letters("How many letters", { "measures/envelope-count": n(41) });
  assert.match(counted, /41 envelopes\. How many letters and sheets there are was not noted\./);
  assert.doesNotMatch(counted, /How many there are/);
  assert.match(letters("How many letters", {}), /How many there are was not noted\./);
  assert.doesNotMatch(letters("How many letters", { "measures/sheet-count": n(130) }), /not noted/);
});

test("of a shoe that is missing nobody asks whether it is original", () => {
  const shoes = one("shoes/proper-left", "missing-part", { extent_count: 1 });
  const asked = answer("doll", "Are wig", { ...shoes, origins: { hair: ["original-probably", ""] } });
  assert.match(asked, /and the proper right shoe are original was not noted\./);
  assert.doesNotMatch(asked, /both shoes/);
});

test("stains under the arms are taken up beside another fault there", () => {
  const gown = (findings, more) =>
    answer("textile-rug", "For costume", { not_there: ["field"], findings, ...more });
  const rot = { zone: "stress", term: "fibre-rot", severity: 2 };
  const open = /Whether there are stains under the arms was not noted\./;
  assert.match(gown([rot]), open);
  assert.doesNotMatch(gown([rot, { zone: "stress", term: "stain", severity: 1 }]), /under the arms/);
  assert.doesNotMatch(gown([rot], { denials: [["stress", "stain", "lamp"]] }), /under the arms/);
  assert.doesNotMatch(gown([]), /under the arms/);
});

test("a note that names a kind of pieces says which of a canteen a fault is on", () => {
  const canteen = (note, short_description = "canteen of cutlery") => ({
    facts: { short_description, pieces: 57 },
    ...one("tines-blades", "rust", { piece_count: 6, note }),
  });
  assert.doesNotMatch(paragraph("silver-plate", canteen("table knives")), /Not noted: which/);
  assert.match(paragraph("silver-plate", canteen("near the ends")), /Not noted: which/);
  assert.match(paragraph("silver-plate", canteen("backs of the spoons", "57 spoons")), /Not noted: which/);
});

test("a lock that is replaced is told where repairs are asked for", () => {
  const lock = one("working", "replaced-part", { extent_count: 1, note: "lock" });
  assert.match(answer("free", "Is anything repaired", lock), /replaced \(lock\)\./);
});

test("of a pair whether the other is as high is asked of what was measured with its ears, too", () => {
  const pair = (basis) =>
    lot("soft-toy", {
      ...{ short_description: "pair of rabbits", pieces: 2 },
      "measures/height": { value: 240, unit: "mm", typed: "", basis },
    });
  assert.match(pair("ears included"), /ears included; whether the other is the same was not noted\./);
  assert.doesNotMatch(pair("of the larger"), /whether the other is the same/);
});

test("a case that was not made for a brooch is not from another brooch, and no repair of it", () => {
  const boxed = { facts: { short_description: "crescent brooch" }, ...one("case", "associated-part") };
  assert.match(paragraph("jewellery", boxed), /The case is associated\./);
  assert.doesNotMatch(answer("jewellery", "Are there repairs", boxed), /case/);
  const mount = { ...boxed, ...one("mount", "associated-part") };
  assert.match(paragraph("jewellery", mount), /from another brooch/);
});

test("when both weights of a clock are gone nobody asks for others", () => {
  const weights = (extent_count) =>
    answer("clock", "Is all of it", one("weights", "missing-part", { extent_count }));
  assert.doesNotMatch(weights(2), /other weights/);
  assert.match(weights(1), /the other weights/);
});

test("a mark that nobody read is not said to be a hallmark, nor that it is none", () => {
  const shank = {
    place: "inside of the shank",
    technique: "struck",
    colour: "",
    completeness: "worn",
    text: "18",
    reading: "",
  };
  const asked = (more) =>
    answer("jewellery", "Which metal", { facts: { "marks/a": { ...shank, standing: "borne", ...more } } });
  const open = /What the mark stands for was not noted\./;
  assert.match(asked({}), open);
  assert.doesNotMatch(asked({ reading: "18 carat" }), open);
  assert.doesNotMatch(asked({ standing: "not-relied-on" }), open);
  assert.doesNotMatch(answer("jewellery", "Which metal", { not_there: ["marks"] }), open);
});

test("a flask that is missing is no answer to whether there is paper", () => {
  const extras = (note) => answer("free", "Is there any paper", one("extras", "missing-part", { note }));
  assert.match(extras("flask, mould and rods"), /^Whether there are papers with it was not noted\./);
  assert.match(extras("the certificate"), /The certificate is missing\./);
  assert.match(extras(""), /One or more extras are missing\./);
});
