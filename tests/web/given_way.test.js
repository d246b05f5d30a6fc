/** What the desk wrote of a thing, its marks and sizes, and of what was not tried gives way as all else does. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { deskAnswers } from "../../web/job/desk_answers.ts";
import { deskTexts, versionOf } from "../../web/job/desk_words.ts";
import { asText } from "../../web/job/sentences.ts";
import { finding, recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";

const textOf = (plan, values, name) =>
  deskTexts(plan, book, recordOf(values)).find((text) => text.name === name);

/** The values of a record with what the desk made of the sentence under a key. */
function desk(plan, values, name, key, words) {
  const line = textOf(plan, values, name).lines.find(({ sentence }) => sentence === key);
  const version = versionOf(name, line, words ? "rewritten" : "struck", words);
  return { ...values, [`sentences/${name}/${key}`]: version };
}

const vase = {
  ...{ short_description: "vase", maker: "Thornapple", maker_certainty: "by", dates: { words: "1890" } },
  "marks/1": {
    ...{ place: "base", text: "W.7", technique: "painted", colour: "red", completeness: null },
    ...{ standing: null, reading: "", withdrawn: false },
  },
  "measures/height": { value: 155, unit: "mm", typed: "" },
  concluded_words: "Made for export",
  ...written(book.plans.ceramics, {}),
};

for (const [key, words, changed, says] of [
  ["what", "A vase by Thornapple.", { maker_certainty: "manner-of" }, /in the manner of Thornapple/],
  ["what", "A vase by Thornapple.", { maker_certainty: "unknown" }, /^A vase, 1890\./],
  ["what", "A vase of 1890 by Thornapple.", { dates: { words: "1930" } }, /1930/],
  ["what", "A vase by Thornapple.", { short_description: "jug" }, /^A jug/],
  ["marks/1", "It has the factory mark W.7.", { "marks/1": { ...vase["marks/1"], withdrawn: true } }, /./],
  [
    "marks/1",
    "It has the factory mark W.7.",
    { "marks/1": { ...vase["marks/1"], standing: "not-relied-on" } },
    /not relied on/,
  ],
  [
    "sizes/height",
    "Height about 15 cm.",
    { "measures/height": { value: 300, unit: "mm", typed: "" } },
    /Height 30\.0 cm/,
  ],
  ["concluded_words", "", { concluded_words: "A later copy" }, /later copy/],
])
  test(`what the desk wrote of ${key} gives way: ${says.source}`, () => {
    const plan = book.plans.ceramics;
    const values = desk(plan, vase, "description", key, words);
    const before = textOf(plan, values, "description").words;
    if (words) assert.ok(before.includes(words), before);
    else assert.doesNotMatch(before, /export/);
    const now = textOf(plan, { ...values, ...changed }, "description").words;
    assert.match(now, says);
    if (words) assert.ok(!now.includes(words), now);
    const answers = deskAnswers(plan, book, recordOf({ ...values, ...changed }));
    for (const { answer } of answers) assert.ok(!words || !asText(answer).includes(words));
  });

test("a description by the desk stands while the record adds to it, or comes near it", () => {
  const plan = book.plans.ceramics;
  const words = "A blue vase by Thornapple.";
  const values = desk(plan, vase, "description", "what", words);
  for (const added of [{ materials: "bone china" }, { dates: { words: "1891" } }])
    assert.ok(textOf(plan, { ...values, ...added }, "description").words.includes(words));
  const tall = desk(plan, vase, "description", "sizes/height", "Height about 15 cm.");
  const near = { ...tall, "measures/height": { value: 158, unit: "mm", typed: "" } };
  assert.match(textOf(plan, near, "description").words, /about 15 cm/);
});

test("what the desk wrote of what was not tried gives way once it was, and stands in the answers till then", () => {
  const plan = book.plans.painting;
  const untried = { short_description: "landscape", ...written(plan, {}) };
  const key = "untried/ultraviolet";
  const [words, own] = ["No ultraviolet was at hand.", /Ultraviolet not used/];
  const answersOf = (values) =>
    deskAnswers(plan, book, recordOf(values))
      .map(({ answer }) => asText(answer))
      .join(" ");
  assert.match(answersOf(untried), own);
  const rewritten = desk(plan, untried, "condition", key, words);
  const struck = desk(plan, untried, "condition", key, "");
  assert.doesNotMatch(answersOf(rewritten), own);
  assert.ok(answersOf(rewritten).includes(words));
  assert.doesNotMatch(answersOf(struck), own);
  const seen = { zone: "paint-layer", term: "retouched", severity: 2, light: "ultraviolet" };
  for (const now of [
    { "findings/1": finding(seen) },
    { "tests/ultraviolet": { result: "works", why: "", note: "" } },
  ])
    assert.ok(!textOf(plan, { ...rewritten, ...now }, "condition").words.includes(words));
});
