/** What a press of its own said, in the answers to bidders: neither less than it, nor more. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

/** The answer where these zones were each cleared by a press of their own, and all others by one. */
function answerByHand(class_id, begins, zones, short = {}) {
  const plan = book.plans[class_id];
  const record = recordOf(written(plan, short));
  for (const [at, zone] of zones.entries())
    Object.assign(record.fields[`zones/${zone}`], { operation_id: `by-hand-${at}`, made_at: `10:0${at}` });
  const answers = fiveAnswers(plan, book, record);
  return asText(answers.find(({ question }) => question.startsWith(begins)).answer);
}

test("what was cleared on its own zone is there; how many there are may not be noted", () => {
  const all = "Is all of it there";
  const by_hand = answerByHand("clock", all, ["weights", "keys", "pendulum"]);
  assert.match(
    by_hand,
    /^The pendulum, the weights and the keys are present\. How many weights and keys there are was not noted\. /,
  );
  assert.match(by_hand, /\. Whether the finials and feet are present was not noted\./);
  const counted = answerByHand("clock", all, ["keys"], { counts: { keys: 2 } });
  assert.match(
    counted,
    /^The keys are present\. Whether the finials and feet, the pendulum and the weights are/,
  );
  assert.match(
    answer("clock", all, {}),
    /Whether the finials and feet, the pendulum, the weights and the keys are present was not noted\./,
  );
  const lost = { findings: [{ zone: "keys", term: "missing-part", severity: 2, extent_count: 1 }] };
  assert.match(
    answerByHand("clock", all, ["keys"], lost),
    /Whether .* the other keys are present was not noted/,
  );
});

test("papers that were looked at by themselves are with it", () => {
  assert.match(answerByHand("watch", "Are box", ["papers"]), /There are papers with it\./);
  assert.match(answerByHand("watch", "Are box", []), /Whether there are papers with it was not noted\./);
});

test("that a light was used is no word on what it showed: of that nothing is said, or what somebody recorded", () => {
  const used = { tests: { "low-light": ["works", "", ""], ultraviolet: ["works", "", ""] } };
  for (const text of [paragraph("work-on-paper", used), answer("work-on-paper", "Are there tears", used)]) {
    assert.match(text, /Looked at in low side light for folds and creases; what showed was not noted\./);
    assert.match(text, /Looked at under ultraviolet for [^.;]*; what showed was not noted\./);
    assert.doesNotMatch(text, /to report/);
  }
  const creased = paragraph("work-on-paper", {
    ...used,
    ...one("sheet-edges", "crease", { light: "torch" }),
  });
  assert.match(creased, /Looked at in low side light for folds and creases\. /);
  const denied = paragraph("ceramics", { ...used, denials: [["handles", "retouched", "ultraviolet"]] });
  assert.match(denied, /Looked at under ultraviolet for restoration\. /);
  const seen = { tests: { "low-light": ["works", "nothing-seen", ""] } };
  assert.match(paragraph("work-on-paper", seen), /for folds and creases, with nothing to report\./);
  const mark = (why) => paragraph("book-map", { tests: { "light-behind": ["works", why, ""] } });
  assert.match(mark("nothing-seen"), /for the watermark; none seen\./);
  assert.match(mark(""), /for the watermark; whether there is one was not noted\./);
});

test("what only says how a material is, is no other material", () => {
  const of = (materials) => lot("silver-plate", { short_description: "teapot", materials });
  assert.match(of("silver-coloured metal, not tested"), /^A teapot; silver-coloured metal, not tested\./);
  assert.match(of("white metal, unmarked"), /white metal, unmarked\./);
  assert.match(of("brass, iron"), /brass and iron/);
});
