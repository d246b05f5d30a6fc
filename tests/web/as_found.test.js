/** What is printed says neither more nor less than is on record: no part that nobody saw, and no look passed over. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const called = (short_description, more = {}) => ({ ...more, facts: { short_description } });

test("nothing is told of a part or a kind that nobody recorded", () => {
  const eyes = "Opening and closing of the eyes not tried.";
  assert.ok(paragraph("doll", {}).includes(` ${eyes}`), paragraph("doll", {}));
  assert.ok(answer("doll", "Do the eyes work", {}).includes(eyes));
  assert.match(answer("book-map", "Which edition", {}), /No imprint was copied\./);
  assert.match(paragraph("jewellery", called("seventeen brooches")), / Settings not touched\./);
  assert.match(paragraph("jewellery", called("ring")), / Setting not touched\./);
  assert.match(
    answer("silver-plate", "Is it silver", {}),
    /^Whether it is silver or plate was not noted; no wear to another metal noted\. (?!.*plating)/,
  );
  assert.match(answer("silver-plate", "Is it silver", one("plating", "plating-loss")), / It is plated\./);
});

test("what holds a thing stands in each answer on which it bears", () => {
  const held = (hazard, sign) => ({
    facts: { "cautions/0": { hazard, level: "amber", sign, zone: null, called: "", place: "" } },
  });
  for (const [class_id, begins, hazard, sign] of [
    ["tinplate-diecast", "Does the motor", "H20", "a mains transformer"],
    ["tinplate-diecast", "Does the motor", "H22", "a boiler with a valve"],
    ["watch", "Is it running", "H10", "brown paint on the hands"],
    ["watch", "Is the dial", "H10", "brown paint on the hands"],
    ["watch", "Are hands", "H55", "brown paint on the hands"],
    ["clock", "Are hands", "H10", "brown paint on the hands"],
  ])
    assert.ok(
      answer(class_id, begins, held(hazard, sign)).includes(`until cleared; noted: ${sign}.`),
      `${class_id} ${begins}`,
    );
});

test("what would tell the room that an owner's title is doubted stays inside", () => {
  for (const hazard of ["H29", "H30", "H60"]) {
    const held = { hazard, level: "amber", sign: "how it came here", zone: "surface", called: "", place: "" };
    const said = { facts: { "cautions/0": held } };
    const papers = answer("free", "Is there any paper", said);
    // Said under that question alone, it would tell what it is held back for.
    assert.doesNotMatch(papers, /Held back/);
    assert.match(answer("free", "What is it made of", said), /^Held back, and not offered until cleared\. /);
    assert.match(paragraph("free", said), / Held back, and not offered until cleared\. /);
    assert.doesNotMatch(`${papers} ${paragraph("free", said)}`, /came here|on the surface/, hazard);
  }
});

test("each limb of a question is answered, also where its name or description alone says that it is one", () => {
  const size = { value: 5, unit: "mm", typed: "5", basis: "" };
  const stones = { facts: { "measures/stone-length": size } };
  const not_measured = /The side stones were not measured\./;
  assert.match(answer("jewellery", "How large", stones), not_measured);
  assert.doesNotMatch(
    answer("jewellery", "How large", { ...stones, not_there: ["side-stones"] }),
    not_measured,
  );
  assert.match(
    answer("jewellery", "How large", { not_there: ["main-stone"] }),
    /The stones were not measured\./,
  );
  const tips = { short_description: "tripod table", seen_words: "Round top that tips, turned column" };
  const untried = /The tipping of the top and its catch were not tried\./;
  assert.match(answer("furniture", "Does it open", { facts: tips }), untried);
  assert.match(paragraph("furniture", { facts: tips }), untried);
  assert.doesNotMatch(answer("furniture", "Does it open", called("tripod table")), untried);
  const held = { rock: ["works", "", "the top tips and its catch holds"] };
  assert.doesNotMatch(answer("furniture", "Does it open", { facts: tips, tests: held }), untried);
});

test("of what was cleared for a word or two, and went home, it is said that it is not offered", () => {
  const plan = book.plans.arms;
  const cleared_for = "a description in words; no estimate";
  const seen = { hazard: "H04", level: "amber", sign: "a hilt and a scabbard", zone: null };
  const facts = {
    "cautions/1": seen,
    "caution-decisions/1": { decision: "cleared", cleared_for },
    short_description: "sword",
  };
  const said = (more) =>
    asText(conditionParagraph(plan, book, recordOf({ ...written(plan, { facts }), ...more })));
  const limit = "Noted: a hilt and a scabbard; cleared only for a description in words.";
  assert.ok(said({}).includes(limit));
  assert.doesNotMatch(said({}), /Returned/);
  const home = said({ whereabouts: { to_place: "returned", at: "", move_id: "m" } });
  assert.match(
    home,
    /^Returned to its owner, and not offered; noted: a hilt and a scabbard; cleared only for a description in words\.$/,
  );
});

test("where a part has a fault, that nothing else was done to it does not read as if it had none", () => {
  const warped = one("neck", "warp", { extent_mm: 6 });
  const neck = answer("stringed-instrument", "Are scroll", warped);
  assert.match(neck, /No sign of later work noted on the scroll, the neck or the neck joint/);
  assert.doesNotMatch(neck, /[Nn]o (further )?change to report/);
  const holed = one("paw-pads/proper-left", "hole", { extent_mm: 4 });
  assert.match(answer("soft-toy", "Are pads", holed), /No sign of later work noted on .*the paw pads/);
});

test("of some of a set it is said that nobody noted which those are", () => {
  const set = { facts: { short_description: "dinner service, 58 pieces", pieces: 58 } };
  const on = (piece_count, zone = "body") => one(zone, "hairline", { piece_count }).findings;
  const crazed = one("glaze", "crazing").findings;
  const said = (...findings) => paragraph("ceramics", { ...set, findings: findings.flat() });
  const all = /Not noted: which of the 58 the hairlines are on\./;
  assert.match(said(on(3), crazed), /Not noted: which of the 58 the faults are on\./);
  assert.match(said(on(3)), all);
  assert.match(said(on(1)), /Not noted: which of the 58 the hairline is on\./);
  assert.doesNotMatch(said(on(58)), /Not noted/);
  const known = [{ ...on(2, "rim")[0], piece_words: "those with a gilt rim" }];
  assert.doesNotMatch(said(known), /Not noted/);
  assert.match(said(known, on(3)), /Not noted: which of the 58 the other faults are on\./);
});

test("marks that were looked at and are clear stand beside those that cannot all be read", () => {
  const worn = one("marks-body", "mark-illegible");
  assert.match(
    answer("silver-plate", "Are the marks", worn),
    /The marks on the body are not fully legible\. .* Nothing further noted on the marks on the other parts\./,
  );
  const mark = { place: "base", technique: "struck", colour: "", text: "K", reading: "", withdrawn: false };
  const copied = { ...worn, facts: { "marks/0": { ...mark, completeness: "worn", standing: "borne" } } };
  assert.match(answer("silver-plate", "Are the marks", copied), / noted on the marks on the other parts\./);
});

test("a look at the whole is told, also where one part was named with its light", () => {
  const ultraviolet = { tests: { ultraviolet: ["works", "nothing-seen", ""] } };
  const nothing = "Looked at under ultraviolet for restoration, with nothing to report.";
  const further = nothing.replace("nothing to", "nothing further to");
  const handles = { ...ultraviolet, denials: [["handles", "retouched", "ultraviolet"]] };
  for (const text of [paragraph("ceramics", handles), answer("ceramics", "Is anything", handles)]) {
    assert.ok(text.includes(nothing), text);
    assert.match(text, /No sign of retouching to the handles seen under ultraviolet\./);
  }
  const filled = { ...ultraviolet, ...one("ornament", "filled", { light: "ultraviolet" }) };
  for (const text of [paragraph("ceramics", filled), answer("ceramics", "Is anything", filled)])
    assert.ok(text.includes(further), text);
  const retouched = { ...ultraviolet, ...one("paint", "retouched", { light: "ultraviolet" }) };
  assert.match(
    answer("painting", "Is there retouching", retouched),
    /Looked at under ultraviolet for retouching, with nothing further to report\./,
  );
  const all = { ...ultraviolet, light: "ultraviolet" };
  assert.doesNotMatch(answer("ceramics", "Is anything", all), /Looked at/);
  assert.match(answer("ceramics", "Is anything", all), /No fault noted on the body, .*\./);
});

test("of flatware the marks and the place of a fault are told apart", () => {
  const canteen = called("canteen of flatware, 64 pieces");
  const legible = [["marks-body", "mark-illegible", "loupe"]];
  const worn = { ...canteen, ...one("marks-parts", "mark-illegible"), denials: legible };
  for (const text of [paragraph("silver-plate", worn), answer("silver-plate", "Are the marks", worn)]) {
    assert.match(text, /The marks on separate parts of the pieces are not fully legible\./);
    assert.match(text, /The main marks on the pieces are legible, seen through a x10 loupe\./);
  }
  const bent = { ...canteen, ...one("tines-blades", "bent", { severity: 1, extent_count: 1 }) };
  for (const text of [paragraph("silver-plate", bent), answer("silver-plate", "Is there a repair", bent)])
    assert.match(text, /One set of tines, bowl or blade is slightly bent\./);
});

test("a thing that has folds was looked at for others", () => {
  const low = { tests: { "low-light": ["works", "nothing-seen", ""] } };
  const folded = called("large folded poster", low);
  const other = "Looked at in low side light for creases and further folds, with nothing";
  for (const text of [paragraph("work-on-paper", folded), answer("work-on-paper", "Are there tears", folded)])
    assert.ok(text.includes(other), text);
  assert.match(answer("work-on-paper", "Are there tears", folded), /^It has folds\. Looked at/);
  assert.match(
    paragraph("work-on-paper", low),
    /Looked at in low side light for folds and creases, with nothing/,
  );
});
