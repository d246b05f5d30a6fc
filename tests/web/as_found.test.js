/** What is printed says neither more nor less than is on record: no part that nobody saw, and no look passed over. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

const called = (short_description, more = {}) => ({ ...more, facts: { short_description } });

test("nothing is told of a part or a kind that nobody recorded", () => {
  const eyes = "Whether the eyes open and close was not tried.";
  assert.ok(paragraph("doll", {}).includes(` ${eyes}`), paragraph("doll", {}));
  assert.ok(answer("doll", "Do the eyes work", {}).includes(eyes));
  assert.match(answer("book-map", "Which edition", {}), /No imprint was copied\./);
  assert.match(paragraph("jewellery", called("seventeen brooches")), / Settings not touched\./);
  assert.match(paragraph("jewellery", called("ring")), / Setting not touched\./);
  assert.match(
    answer("silver-plate", "Is it silver", {}),
    /^Whether it is silver or plate is not determined, and no wear to another metal was noted\. (?!.*plating)/,
  );
  assert.match(answer("silver-plate", "Is it silver", one("plating", "plating-loss")), / It is plated\./);
});

test("what holds a thing stands in each answer on which it bears", () => {
  const held = (hazard, sign) => ({
    facts: { "cautions/0": { hazard, level: "amber", sign, zone: null, called: "", place: "", still_allowed: null } },
  });
  for (const [class_id, begins, hazard, sign] of [
    ["tinplate-diecast", "Does the motor", "H20", "a mains transformer"],
    ["tinplate-diecast", "Does the motor", "H22", "a boiler with a valve"],
    ["watch", "Is it running", "H10", "brown paint on the hands"],
    ["watch", "Is the dial", "H10", "brown paint on the hands"],
    ["watch", "Are hands", "H55", "brown paint on the hands"],
    ["clock", "Are hands", "H10", "brown paint on the hands"],
    ["free", "Is there any paper", "H30", "a story of how it came here"],
  ])
    assert.ok(answer(class_id, begins, held(hazard, sign)).includes(`until cleared: ${sign}.`), `${class_id} ${begins}`);
});

test("each limb of a question is answered, also where its name or description alone says that it is one", () => {
  const size = { value: 5, unit: "mm", typed: "5", basis: "" };
  const stones = { facts: { "measures/stone-length": size } };
  const not_measured = /The side stones were not measured\./;
  assert.match(answer("jewellery", "How large", stones), not_measured);
  assert.doesNotMatch(answer("jewellery", "How large", { ...stones, not_there: ["side-stones"] }), not_measured);
  assert.match(answer("jewellery", "How large", { not_there: ["main-stone"] }), not_measured);
  const tips = { short_description: "tripod table", seen_words: "Round top that tips, turned column" };
  const untried = /Whether the top tips and is held by its catch was not tried\./;
  assert.match(answer("furniture", "Does it open", { facts: tips }), untried);
  assert.match(paragraph("furniture", { facts: tips }), untried);
  assert.doesNotMatch(answer("furniture", "Does it open", called("tripod table")), untried);
  const held = { rock: ["works", "", "the top tips and its catch holds"] };
  assert.doesNotMatch(answer("furniture", "Does it open", { facts: tips, tests: held }), untried);
});
