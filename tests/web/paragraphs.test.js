/**
 * What is printed of fourteen records, held to paragraphs and answers that were written by hand before the code was.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";

const { cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/paragraphs.json", import.meta.url), "utf-8"),
);

function holdsInOrder(text, phrases) {
  let from = 0;
  for (const words of phrases) {
    const at = text.toLowerCase().indexOf(words.toLowerCase(), from);
    if (at < 0) return words;
    from = at + words.length;
  }
  return null;
}

for (const one of cases) {
  test(`the paragraph of ${one.name}`, () => {
    const plan = book.plans[one.class_id];
    const text = asText(conditionParagraph(plan, book, recordOf(written(plan, one))));
    const missing = holdsInOrder(text, one.says);
    assert.equal(missing, null, `"${missing}" is missing, or out of its order, in: ${text}`);
    for (const words of one.never)
      assert.ok(!text.toLowerCase().includes(words.toLowerCase()), `"${words}" is in: ${text}`);
    assert.ok(
      one.condition.toLowerCase().startsWith(one.says[0]),
      "the paragraph by hand begins with its grade",
    );
    assert.ok(
      text.toLowerCase().startsWith(one.says[0]),
      `the grade by hand is "${one.says[0]}", in: ${text}`,
    );
  });
}

for (const one of cases.filter(({ answers }) => answers))
  for (const { of, says, never } of one.answers)
    test(`the answer on "${of}" of ${one.name}`, () => {
      const plan = book.plans[one.class_id];
      const answers = fiveAnswers(plan, book, recordOf(written(plan, one)));
      const asked = answers.filter(({ question }) => question.includes(of));
      assert.equal(asked.length, 1, `one question holds "${of}"`);
      const text = asText(asked[0].answer).toLowerCase();
      for (const words of says)
        assert.ok(text.includes(words.toLowerCase()), `"${words}" is missing in: ${text}`);
      for (const words of never) assert.ok(!text.includes(words.toLowerCase()), `"${words}" is in: ${text}`);
    });
