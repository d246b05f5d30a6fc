/** What a press of its own said, in the answers to bidders: neither less than it, nor more. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { recordOf, written } from "./any_words.js";
import { answer } from "./as_text.js";
import { asText } from "../../web/job/sentences.ts";
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
  assert.match(counted, /^The keys are present\. Whether the finials and feet, the pendulum and the weights are/);
  assert.match(
    answer("clock", all, {}),
    /Whether the finials and feet, the pendulum, the weights and the keys are present was not noted\./,
  );
  const lost = { findings: [{ zone: "keys", term: "missing-part", severity: 2, extent_count: 1 }] };
  assert.match(answerByHand("clock", all, ["keys"], lost), /Whether .* the other keys are present was not noted/);
});

test("papers that were looked at by themselves are with it", () => {
  assert.match(answerByHand("watch", "Are box", ["papers"]), /There are papers with it\./);
  assert.match(answerByHand("watch", "Are box", []), /Whether there are papers with it was not noted\./);
});
