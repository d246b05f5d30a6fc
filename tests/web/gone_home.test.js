/** What was given back says so, and is not offered: in place of the paragraph and of what bidders ask. */
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
  assert.equal(paragraph, "Returned to its owner, and not offered.");
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
  assert.equal(paragraph, "Returned to its owner, and not offered; noted: dark wood.");
  assert.deepEqual(
    answers.map(({ answer }) => asText(answer)),
    ["Returned to its owner, and not offered; noted: dark wood."],
  );
});

test("why it went home is said where it was decided that it goes", () => {
  const note = "something moving in the seam";
  const moth = { severity: 4, activity: "Q", note, zone: "case", term: "live-insects" };
  const held = { hazard: "H26", level: "amber", sign: note, zone: null, called: "", place: "" };
  const of = (more) =>
    textsOf(
      { ...BANJO, findings: [moth] },
      { ...returned, "cautions/0": set({ ...held, withdrawn: false }), ...more },
    ).paragraph;
  const decided = { "caution-decisions/0": set({ decision: "returned" }) };
  assert.equal(of(decided), "Returned to its owner because of the live insects; not offered.");
  assert.equal(of({}), "Returned to its owner, and not offered; noted: the live insects.");
});

test("what was found in the ground goes back to its finder: whose it is, is the question", () => {
  const earth = { hazard: "H09", level: "amber", sign: "earth on it", zone: null, called: "", place: "" };
  const { paragraph, answers } = textsOf(BANJO, { ...returned, "cautions/0": set(earth) });
  assert.match(paragraph, /Returned to its finder, and not offered; noted: earth on it\./);
  assert.deepEqual(
    answers.map(({ answer }) => asText(answer)),
    ["Returned to its finder, and not offered; noted: earth on it."],
  );
});

test("what was seen in photographs alone never came here, and went back to nobody", () => {
  const short_description = "banjo, from photographs";
  const nothing = { ...recordOf({}), fields: { short_description: set(short_description), ...returned } };
  assert.equal(
    asText(conditionParagraph(plan, book, nothing)),
    "Not offered: seen in photographs only. Not examined.",
  );
  assert.deepEqual(
    fiveAnswers(plan, book, nothing).map(({ answer }) => asText(answer)),
    ["Not offered: seen in photographs only."],
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
    assert.match(asText(answer), /^One of the two is here; the second went back to its owner\./);
});
