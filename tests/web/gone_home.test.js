/** What was given back says so, and is not offered: first in the paragraph, and in place of what bidders ask. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { set, tag } from "./made.js";
import { book } from "./plan_book.js";

const plan = book.plans["stringed-instrument"];
const BANJO = {
  facts: { short_description: "banjo" },
  findings: [{ zone: "table", term: "crack", severity: 2 }],
};

function textsOf(short, fields) {
  const values = recordOf(written(plan, short));
  const item = { ...values, fields: { ...values.fields, ...fields } };
  return { paragraph: asText(conditionParagraph(plan, book, item)), answers: fiveAnswers(plan, book, item) };
}

const returned = { whereabouts: set({ to_place: "returned" }, "2026-03-14T12:00:00Z") };
const AT = "2026-03-14T10:00:00Z";

test("what went home says so in the paragraph, and in one answer to all that is asked", () => {
  const { paragraph, answers } = textsOf(BANJO, returned);
  assert.match(paragraph, /^Returned to its owner, and not offered\. Very good\. A crack/);
  assert.deepEqual(
    answers.map(({ question, answer }) => [question, asText(answer)]),
    [["All five questions", "Returned to its owner, and not offered."]],
  );
  const here = textsOf(BANJO, {});
  assert.doesNotMatch(here.paragraph, /Returned/);
  assert.equal(here.answers.length, 5);
});

test("a caution says by itself that what it stands on went home", () => {
  const held = { hazard: "H06", level: "amber", sign: "dark wood", zone: null, called: "", place: "" };
  const { paragraph, answers } = textsOf(BANJO, { ...returned, "cautions/0": set(held) });
  assert.equal(paragraph.match(/Returned to/g).length, 1);
  assert.deepEqual(
    answers.map(({ answer }) => asText(answer)),
    ["Returned to its owner, and not offered: dark wood."],
  );
});

test("what was found in the ground goes back to its finder: whose it is, is the question", () => {
  const earth = { hazard: "H09", level: "amber", sign: "earth on it", zone: null, called: "", place: "" };
  const { paragraph, answers } = textsOf(BANJO, { ...returned, "cautions/0": set(earth) });
  assert.match(paragraph, /Returned to its finder, and not offered: earth on it\./);
  assert.deepEqual(
    answers.map(({ answer }) => asText(answer)),
    ["Returned to its finder, and not offered: earth on it."],
  );
});

test("what was seen in photographs alone never came here, and went back to nobody", () => {
  const short_description = "banjo, from photographs";
  const nothing = { ...recordOf({}), fields: { short_description: set(short_description), ...returned } };
  assert.equal(asText(conditionParagraph(plan, book, nothing)), "Not examined: seen in photographs only.");
  assert.deepEqual(
    fiveAnswers(plan, book, nothing).map(({ answer }) => asText(answer)),
    ["Not examined. Seen in photographs only."],
  );
  const here = { ...nothing, fields: { ...nothing.fields, "tags/A": set(tag("A", { gone: "taken-back" })) } };
  assert.match(asText(conditionParagraph(plan, book, here)), /^Returned to its owner/, "it came in the end");
});

test("of a set of which a piece went back, each answer begins with that", () => {
  const pair = { facts: { short_description: "pair of banjos", pieces: 2 } };
  const { answers } = textsOf(pair, {
    "tags/A": set(tag("A", { of: 2 }), AT),
    "tags/B": set(tag("B", { piece: 2, of: 2, gone: "taken-back" }), AT),
  });
  assert.equal(answers.length, 5);
  for (const { answer } of answers)
    assert.match(asText(answer), /^One of the two is here; piece 2 went back to its owner\./);
});
