/** A thing is asked only for what it has: a clock without weights for its pendulum. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { worded } from "../../web/job/worded.ts";
import { recordOf } from "./any_words.js";
import { book } from "./plan_book.js";

const NEVER = { state: "not-examined", reason: "not-applicable" };
const plan = book.plans.clock;
const row = (rows, name) => rows.find(({ view, test, measure }) => [view, test, measure].includes(name));
const asks = (rows, name, values) => worded(plan, recordOf(values), row(rows, name));

test("what it never had is asked for in no view, trial or size", () => {
  const values = { "zones/weights": NEVER, "zones/finials": NEVER };
  assert.equal(asks(plan.views, "laid-out", values).words, "pendulum and keys laid out");
  assert.equal(asks(plan.tests, "lift", values).how, "take the pendulum off first");
  const height = asks(plan.measures, "height", values);
  assert.deepEqual(
    [height.words, height.bases],
    ["height; say with or without handle", ["with handle", "without handle"]],
  );
});

test("what it has, or had once, is asked for as the plan has it", () => {
  for (const values of [{}, { "zones/weights": { state: "not-examined", reason: "covered" } }]) {
    assert.equal(asks(plan.views, "laid-out", values).words, "pendulum, weights and keys laid out");
    assert.equal(asks(plan.tests, "lift", values).how, "take pendulum and weights off first");
  }
});
