/** Where two valuers disagree: the graver is printed, with what the other has, and neither as the whole truth. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { finding, recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";

/** The texts of a record of which another value of one field was said as well. */
function textsOf(class_id, short, field, other) {
  const plan = book.plans[class_id];
  const record = recordOf({ short_description: "thing", ...written(plan, short) });
  const two = {
    disagreement_id: "1",
    field,
    kept: record.fields[field],
    other: { value: other },
    settled: null,
  };
  const said = { ...record, disagreements: [two] };
  return {
    condition: asText(conditionParagraph(plan, book, said)),
    lot: asText(lotDescription(plan, book, said)),
    answers: fiveAnswers(plan, book, said).map(({ answer }) => asText(answer)),
  };
}

const chip = (more) => finding({ zone: "rim", term: "chip", severity: 2, ...more });

/** The paragraph of a pair of readings, whichever of them is in force. */
function bothWays(class_id, facts, one, other) {
  const of = (a, b) => textsOf(class_id, { facts, findings: [a] }, "findings/0", b).condition;
  assert.equal(of(one, other), of(other, one));
  return of(one, other);
}

const cups = { short_description: "six cups", pieces: 6 };
const vases = { short_description: "pair of vases", pieces: 2 };

/** The facts, two readings, and what is printed of them whichever is in force. */
const READINGS = [
  [
    {},
    [{ extent_mm: 5 }, { extent_mm: 25 }],
    "A chip of 25 mm to the rim; recorded as 5 mm as well, and not settled.",
  ],
  [
    {},
    [{ extent_count: 2 }, { extent_count: 5 }],
    "Five chips to the rim; recorded as two as well, and not settled.",
  ],
  [
    {},
    [
      { term: "crazing", extent_percent: 10 },
      { term: "crazing", extent_percent: 60 },
    ],
    "Crazing over about 60 per cent of the rim; recorded as about 10 per cent as well, and not settled.",
  ],
  [{}, [{ certainty: "possible" }, {}], "A chip to the rim; recorded as possible as well, and not settled."],
  [
    cups,
    [{ piece_count: 1 }, { piece_count: 4 }],
    "Four of the six have a chip to the rim; recorded as one of the six as well, and not settled.",
  ],
  [
    vases,
    [
      { piece: "left", extent_mm: 5 },
      { piece: "right", extent_mm: 5 },
    ],
    "One of the two has a chip of 5 mm to the rim; which of the two is not settled.",
  ],
  [
    cups,
    [{ piece: "2" }, { piece: "5" }],
    "One of the six has a chip to the rim; which of the six is not settled.",
  ],
  [
    vases,
    [
      { piece: "left", extent_mm: 5 },
      { piece: "right", extent_mm: 9 },
    ],
    "One of the two has a chip of 9 mm to the rim; recorded as 5 mm as well; " +
      "neither that nor which of the two it is on is settled.",
  ],
  [{}, [{}, { withdrawn: true }], "A chip to the rim; whether it is there is not settled."],
  [
    {},
    [{ extent_mm: 9 }, { term: "crack", severity: 3, extent_mm: 40 }],
    "A crack of 40 mm in the rim; recorded as a chip of 9 mm as well, and not settled.",
  ],
];

for (const [facts, [one, other], says] of READINGS)
  test(`two readings: ${says}`, () => {
    const text = bothWays("ceramics", facts, chip(one), chip(other));
    assert.ok(text.includes(says), text);
    assert.doesNotMatch(text, /otherwise as well/);
    if (!one.piece_count) assert.doesNotMatch(text, /Not noted: which of/);
  });

test("the sound one of a pair is not named where nobody knows which it is", () => {
  const short = { facts: vases, findings: [chip({ piece: "left" })] };
  for (const text of textsOf("ceramics", short, "findings/0", chip({ piece: "right" })).answers)
    assert.doesNotMatch(text, /the (left|right) one/);
});

test("a fault of no kin is told with its size, and an opinion that another does not share is none of the house", () => {
  const hairline = finding({ zone: "dial", term: "hairline", severity: 2, extent_mm: 14 });
  const repainted = finding({ zone: "dial", term: "repainted", severity: 3 });
  const { condition } = textsOf("watch", { findings: [hairline] }, "findings/0", repainted);
  assert.match(
    condition,
    /The dial is repainted; recorded as a hairline of 14 mm as well, and not settled\./,
  );
  const facts = { concluded_words: "Case and movement belong together." };
  const { lot, answers } = textsOf(
    "watch",
    { facts },
    "concluded_words",
    "The movement is from another watch.",
  );
  for (const text of [lot, answers.join(" ")]) {
    assert.match(
      text,
      /Our opinions differ, and it is not settled which holds: case and movement belong together; or the/,
    );
    assert.match(text, /; or the movement is from another watch\./);
    assert.doesNotMatch(text, /In our opinion/);
  }
});

test("the word for the whole was recorded by nobody, so that it is not said to be recorded otherwise", () => {
  const short = { findings: [chip({ severity: 4 })] };
  const { condition } = textsOf("ceramics", short, "findings/0", chip({ severity: 1 }));
  assert.match(condition, /^Poor, on the graver of what was recorded\. /);
});

test("what one denied and another took back is denied nowhere", () => {
  const denied = { zone: "paint", term: "retouched", light: "ultraviolet", withdrawn: false };
  const short = {
    denials: [["paint", "retouched", "ultraviolet"]],
    tests: { ultraviolet: ["works", "", ""] },
  };
  const { condition, answers } = textsOf("painting", short, "denials/paint/retouched", {
    ...denied,
    withdrawn: true,
  });
  for (const text of [condition, ...answers])
    assert.doesNotMatch(text, /with nothing to report|(^|\. )No sign of retouching/);
  assert.match(
    condition,
    /Recorded and taken back, and not settled: no sign of retouching to the paint seen under/,
  );
});

test("that a light was used or not is said once to be open", () => {
  const short = {
    denials: [["paint", "retouched", "ultraviolet"]],
    tests: { ultraviolet: ["works", "", ""] },
  };
  const not_done = { result: "not-done", why: "no-tool", note: "" };
  const { condition } = textsOf("painting", short, "tests/ultraviolet", not_done);
  assert.equal(condition.match(/settled/g).length, 1, condition);
});

test("that a zone has nothing is a word on what was found there, and on no other question", () => {
  const clear = { state: "clear", reason: null, light: "lamp", count: null };
  const { condition, answers } = textsOf("ceramics", { findings: [chip()] }, "zones/rim", clear);
  const told = /A chip to the rim; that nothing is there was recorded as well, and is not settled\./;
  for (const text of [condition, answers[0]]) assert.match(text, told);
  assert.doesNotMatch(answers[1], /settled/);
});

test("of what it is and when two things may be open", () => {
  const plan = book.plans.ceramics;
  const record = recordOf({
    short_description: "porcelain vase",
    dates: { words: "circa 1750" },
    ...written(plan, {}),
  });
  const two = (field, value) => ({
    ...{ disagreement_id: field, field, kept: record.fields[field], other: { value }, settled: null },
  });
  const disagreements = [two("short_description", "bone china vase"), two("dates", { words: "circa 1880" })];
  assert.match(
    asText(lotDescription(plan, book, { ...record, disagreements })),
    /; what it is and the date were recorded otherwise as well, and are not settled\./,
  );
});
