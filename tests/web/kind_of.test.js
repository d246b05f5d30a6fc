/** What a plan asks of one kind of its things and not of the others: cases that the office tells alike. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { planOfKind } from "../../web/job/kind_of.ts";
import { outlinesOf } from "../../web/job/outlines_of.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { zonesLeft } from "../../web/job/progress.ts";
import { asText } from "../../web/job/sentences.ts";
import { planFor } from "../../web/job/tests_fitted.ts";
import { worded } from "../../web/job/worded.ts";
import { book } from "./plan_book.js";

const CASES = JSON.parse(readFileSync(new URL("../../fixtures/kinds-of.json", import.meta.url), "utf-8"));
const ROWS = { zones: "zone", tests: "test", views: "view", measures: "measure", negatives: "negative" };

const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const item = (class_id, name, on_record = {}) => {
  const said = { class_id, ...(name === null ? {} : { short_description: name }), ...on_record };
  const fields = Object.fromEntries(Object.entries(said).map(([field, value]) => [field, set(value)]));
  return { kind: "item", record_id: "i", disagreements: [], fields };
};
const asked = (class_id, name, on_record) =>
  planOfKind(book.plans[class_id], item(class_id, name, on_record));

for (const { says, class_id, name, on_record, asked: is, not_asked } of CASES)
  test(says, () => {
    const plan = asked(class_id, name, on_record);
    const rows = Object.entries(ROWS).flatMap(([of, id]) => plan[of].map((row) => row[id]));
    assert.deepEqual(
      is.filter((id) => !rows.includes(id)),
      [],
    );
    assert.deepEqual(
      not_asked.filter((id) => rows.includes(id)),
      [],
    );
  });

test("a plan of before knows no kinds, and one plan is made for each kind", () => {
  const { kinds: _, ...before } = book.plans.clock;
  assert.equal(planOfKind(before, item("clock", "longcase clock")), before);
  assert.equal(asked("clock", "oak longcase clock"), asked("clock", "a longcase"));
});

test("a longcase clock is drawn as one, in front and within, and no other clock is", () => {
  const shown = (name, plan = asked("clock", name)) =>
    outlinesOf(book, plan, item("clock", name)).map(({ outline }) => outline);
  assert.deepEqual(shown("longcase clock"), ["longcase", "longcase-inside"]);
  assert.deepEqual(shown("bracket clock"), ["front", "back"]);
  const { kinds: _, ...rest } = book.plans.clock;
  const later = ["hood", "hood-door", "trunk", "trunk-door", "plinth"];
  const older = { ...rest, zones: rest.zones.filter(({ zone }) => !later.includes(zone)) };
  assert.equal(zonesLeft(older, item("clock", "longcase clock")), 23, "a record of before has its own zones");
});

test("letters are drawn as letters, and a framed letter as what hangs in a frame", () => {
  const shown = (name) =>
    outlinesOf(book, asked("work-on-paper", name), item("work-on-paper", name)).map(({ outline }) => outline);
  assert.deepEqual(shown("bundle of letters"), ["letters"]);
  assert.deepEqual(shown("framed letter"), ["front", "back", "framed"]);
});

test("the height of a longcase clock is asked with its finials, of no handle", () => {
  const heightOf = (name) => {
    const plan = asked("clock", name);
    const height = plan.measures.find(({ measure }) => measure === "height");
    return worded(plan, item("clock", name), height).bases;
  };
  assert.deepEqual(heightOf("longcase clock"), ["with finials", "without finials"]);
  assert.deepEqual(heightOf("carriage clock"), ["with handle and finial", "without handle and finial"]);
});

const texts = (class_id, name, on_record) => {
  const record = item(class_id, name, on_record);
  const answers = fiveAnswers(book.plans[class_id], book, record);
  return { paragraph: asText(conditionParagraph(book.plans[class_id], book, record)), answers };
};
const clear = { state: "clear", reason: null, light: "lamp", count: null };

test("bidders hear of the trunk of a longcase clock, and of no other clock", () => {
  const split = { zone: "trunk", term: "split", severity: 1, note: "", withdrawn: false };
  const told = texts("clock", "longcase clock", { "zones/hood": clear, "findings/f": split });
  assert.match(told.paragraph, /split in the trunk/);
  const other = texts("clock", "mantel clock", { "zones/case": clear });
  assert.doesNotMatch(JSON.stringify(other), /trunk|plinth|hood/);
});

test("bidders ask of letters how many there are, from whom and whether all are there", () => {
  const told = texts("work-on-paper", "bundle of letters", { "zones/sheets": clear });
  assert.deepEqual(
    told.answers.map(({ question }) => question),
    book.plans["work-on-paper"].kinds[0].instead.questions.map(({ question }) => question),
  );
  assert.doesNotMatch(JSON.stringify(told), /margin|frame|edition|laid down|plate/);
  const counted = { value: 12, unit: "n", typed: "12" };
  const many = texts("work-on-paper", "bundle of letters", {
    "zones/sheets": clear,
    "measures/letters": counted,
  });
  assert.match(JSON.stringify(many.answers[0]), /Twelve letters/);
  assert.doesNotMatch(JSON.stringify(many.answers[0]), /was not noted/);
});

test("what a kind has none of is no question that is put to it: a dress has no pile", () => {
  const { answers } = texts("textile-rug", "silk evening dress", { "zones/face": clear });
  const { answer } = answers.find(({ question }) => question.startsWith("Is the pile"));
  assert.equal(asText(answer), "Does not apply: no rug or carpet.");
  assert.deepEqual(answer[0].from, ["short_description"]);
});

/** What a thing of such a name is asked in words: zones, views, measures, trials, marks, questions, where to begin. */
const wordsAsked = (class_id, name) => {
  const plan = planFor(book.plans[class_id], item(class_id, name));
  const { zones, views, measures, tests, marks, questions, count_start } = plan;
  const answers = questions.map((one) => [
    one.question,
    ...(one.leaves_open ?? []).map(({ words }) => words),
  ]);
  const trials = tests.map(({ how, said, undone, test }) => test !== "never" && [how, said, undone]);
  const rows = [...zones, ...views, ...measures].map(({ words }) => words);
  rows.push(...zones.flatMap(({ zone, usual }) => [zone, ...usual].map((id) => id.replaceAll("-", " "))));
  return JSON.stringify([rows, trials, marks, answers, count_start]);
};

test("of a piece of jewellery no word of another kind is asked, tried or offered as a place of marks", () => {
  const words = {
    ring: /\b(?:rings?|shank|shoulders?|finger)\b/,
    brooch: /\bbrooch|\bpins?\b/,
    earrings: /\bposts?\b|butterfl/,
    claws: /\bclaws?\b|\bcollets?\b|\bstones?\b/,
  };
  const of = {
    "string of cultured pearls": ["ring", "brooch", "earrings", "claws"],
    "pearl necklace": ["ring", "brooch", "earrings", "claws"],
    "gold necklace": ["ring", "brooch", "earrings"],
    bangle: ["ring", "brooch", "earrings"],
    "mourning brooch": ["ring", "earrings"],
    "pair of earrings": ["ring", "brooch"],
    "gold ring": ["brooch", "earrings"],
  };
  for (const [name, others] of Object.entries(of))
    for (const other of others)
      assert.doesNotMatch(wordsAsked("jewellery", name).replaceAll("bolt ring", ""), words[other], name);
});

test("bidders ask of pearls how long they are and how they are strung, and of no ring size", () => {
  const { answers, paragraph } = texts("jewellery", "string of cultured pearls", {
    "zones/pearls-or-beads": clear,
    "zones/stringing": clear,
    "measures/length": { value: 450, unit: "mm", typed: "45 cm" },
  });
  assert.equal(answers.length, 5);
  const told = [paragraph, ...answers.flatMap(({ question, answer }) => [question, asText(answer)])].join(
    "\n",
  );
  assert.match(told, /How long is it.*\n.*45\.0 cm/);
  assert.doesNotMatch(told, /\brings?\b|shank|claw|stones?\b|setting/);
  assert.match(told, /pearls/);
});

test("of a chair nothing of drawers, doors or handles is asked, tried or told", () => {
  const { answers, paragraph } = texts("furniture", "armchair", { "zones/legs": clear, "zones/back": clear });
  const told = JSON.stringify([answers, paragraph, wordsAsked("furniture", "armchair")]);
  assert.doesNotMatch(told, /drawer|door|handle|carcass|plinth|leaves|\bopen(?:ed)? and|cornice/);
  assert.match(told, /Are legs, feet and seat original/);
});

test("each kind of jewellery, and a seat, has its own drawing, on which its zones alone are drawn", () => {
  const drawn = (class_id, name) => {
    const plan = asked(class_id, name);
    const shown = outlinesOf(book, plan, item(class_id, name));
    const here = new Set(plan.zones.map(({ zone }) => zone));
    for (const { outline, shapes } of shown)
      for (const { zone } of shapes)
        assert.ok(!zone || here.has(zone.split("/")[0]), `${name}: ${outline}: ${zone}`);
    return shown.map(({ outline }) => outline);
  };
  assert.deepEqual(drawn("jewellery", "string of cultured pearls"), ["string"]);
  assert.deepEqual(drawn("jewellery", "cultured pearls, two rows"), ["string"]);
  assert.deepEqual(drawn("jewellery", "pearl necklace"), ["string"]);
  assert.deepEqual(drawn("jewellery", "gold brooch with pearls"), ["brooch", "brooch-back"]);
  assert.deepEqual(drawn("jewellery", "long guard chain"), ["necklace"]);
  assert.deepEqual(drawn("jewellery", "pair of earrings"), ["earrings"]);
  assert.deepEqual(drawn("jewellery", "bangle, yellow metal"), ["bracelet"]);
  assert.deepEqual(drawn("jewellery", "three-stone ring"), ["ring"]);
  assert.deepEqual(drawn("furniture", "dining chair, one of six"), ["seat", "seat-back"]);
});

test("a zone without which a kind is comes with what was said of it, not with a trial or a view of its id", () => {
  const zonesOf = (name, on_record) => asked(...name, on_record).zones.map(({ zone }) => zone);
  const brooch = ["jewellery", "gold brooch"];
  assert.ok(!zonesOf(brooch, { "tests/clasp": { result: "works" } }).includes("clasp"));
  assert.ok(zonesOf(brooch, { "zones/clasp": clear }).includes("clasp"));
  const chair = ["furniture", "armchair"];
  assert.ok(!zonesOf(chair, { "views/front": { reason: "not-applicable" } }).includes("front"));
});
