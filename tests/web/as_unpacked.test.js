/** A fault that was seen as a thing was unpacked: it is none that the lights of the table showed. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { AS_UNPACKED } from "../../web/job/as_unpacked.ts";
import { lightWords } from "../../web/job/list_words.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { valueWords } from "../../web/job/value_words.ts";
import { finding, recordOf, written } from "./any_words.js";
import { one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const lists = { book, plan: book.plans.ceramics };

test("what was seen as it was unpacked is told by no light, not even by that of its zone", () => {
  const seen = (light) =>
    paragraph("ceramics", { ...one("body", "crack", { light }), lights: { body: "behind" } });
  assert.match(seen(null), /body, seen with light from behind/);
  const words = seen(AS_UNPACKED);
  assert.match(words, /A crack in the body/, words);
  assert.doesNotMatch(words, /seen with light from behind|unpacked/);
  assert.match(words, /Examined with a lamp and light from behind/);
});

test("as it was unpacked is no light by which a thing was examined, and reads as words in lists", () => {
  const state = { state: "finding", reason: null, light: AS_UNPACKED, count: null };
  const found = { ...one("body", "crack", { light: AS_UNPACKED }), lights: { body: AS_UNPACKED } };
  assert.doesNotMatch(paragraph("ceramics", found), /unpacked/);
  const alone = { ...found, light: AS_UNPACKED };
  assert.match(paragraph("ceramics", alone), /[Bb]y what light it was examined is not recorded/);
  assert.equal(lightWords(lists, AS_UNPACKED), "as it was unpacked");
  assert.match(valueWords(state, "zones/body", lists), /as it was unpacked/);
});

/** What is printed of a thing that differed, with findings that the desk made of it since. */
function sinceCheckIn(class_id, words, since) {
  const plan = book.plans[class_id];
  const found = since.map((said) => finding({ severity: 2, light: AS_UNPACKED, ...said }));
  const record = recordOf(written(plan, { findings: found }));
  const told = { value: { state: "differs", words, second_by: "" }, made_at: "2026-05-01T10:00:00Z" };
  record.fields["check-in"] = told;
  for (const [name, field] of Object.entries(record.fields))
    if (name.startsWith("findings/")) field.made_at = "2026-05-02T10:00:00Z";
  const answers = fiveAnswers(plan, book, record).map(({ question, answer }) => [question, asText(answer)]);
  return { condition: asText(conditionParagraph(plan, book, record)), answers };
}

test("what the desk recorded of damage of the way is told once, and nothing is said of before any more", () => {
  const tear = { zone: "stress-points", term: "tear", extent_mm: 90, note: "left underarm" };
  const { condition, answers } = sinceCheckIn("textile-rug", "the tear under the left arm is 90 mm now", [
    tear,
  ]);
  assert.match(condition, /tear of 90 mm/);
  assert.doesNotMatch(condition, /checked in/);
  for (const [question, answer] of answers) assert.doesNotMatch(answer, /checked in/, question);
  const handle = { zone: "handles", term: "broken", extent_count: 1 };
  assert.doesNotMatch(sinceCheckIn("ceramics", "handle broken off", [handle]).condition, /checked in/);
});

test("of what differed in several ways all is told until each of them is recorded", () => {
  const chip = { zone: "rim", term: "chip", extent_mm: 3 };
  const crack = { zone: "body", term: "crack", extent_mm: 30 };
  const words = "a chip to the rim and a crack in the body";
  assert.match(
    sinceCheckIn("ceramics", words, [chip]).condition,
    /checked in: a chip to the rim and a crack/,
  );
  assert.doesNotMatch(sinceCheckIn("ceramics", words, [chip, crack]).condition, /checked in/);
  // What a table recorded later by its lamp may be anything.
  const other = { ...chip, light: "lamp" };
  assert.match(sinceCheckIn("ceramics", "a chip to the rim", [other]).condition, /checked in: a chip/);
});
