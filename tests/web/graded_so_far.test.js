/** What should run and was not tried has its word like what could not be examined: good at best, and so far only. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { gradeOf } from "../../web/job/condition.ts";
import { recordOf, written } from "./any_words.js";
import { paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const toy = (...there) => ({
  not_there: ["clockwork", "motor-electric", "steam-parts"].filter((zone) => !there.includes(zone)),
});

test("of works that nobody tried the word goes so far as examined, by whatever they go", () => {
  for (const works of ["clockwork", "motor-electric", "steam-parts"])
    assert.match(
      paragraph("tinplate-diecast", toy(works)),
      /^Good, so far as examined\. .*not (tested|tried)/,
    );
  assert.match(paragraph("tinplate-diecast", toy()), /^Excellent\./);
  const ran = { ...toy("clockwork"), tests: { "half-turn": ["works", "", ""] } };
  assert.match(paragraph("tinplate-diecast", ran), /^Excellent\./);
  assert.match(paragraph("watch", { not_examined: { movement: "sealed" } }), /^Good, so far as examined\./);
  assert.match(paragraph("watch", {}), /^Good, so far as examined\./);
});

test("it holds the word down and never up, and is named beside it on the screen", () => {
  const grade = (short) => gradeOf(book.plans.watch, recordOf(written(book.plans.watch, short)));
  assert.deepEqual(grade({}).because, [{ words: "what should run was not tried", found: [] }]);
  const broken = { findings: [{ zone: "dial", term: "crack", severity: 4 }] };
  assert.deepEqual([grade(broken).word, grade(broken).so_far], ["poor", true]);
});
