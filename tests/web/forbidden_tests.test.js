/** What is on record of a thing forbids a test on it, by what its plan has. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isForbiddenBeside } from "../../web/job/forbidden_tests.ts";
import { record } from "./made.js";
import { book } from "./plan_book.js";

const state = (state, reason = null) => ({ state, reason, light: "lamp", count: null });
const found = (zone, term) => ({
  zone,
  term,
  severity: 2,
  certainty: "certain",
  withdrawn: false,
  note: "",
});

const isForbidden = (class_id, name, values) => {
  const plan = book.plans[class_id];
  const trial = plan.tests.find(({ test }) => test === name);
  return isForbiddenBeside(plan, trial, record("item", "i", values));
};

test("a finding forbids a test, and one that the test itself brings to light does not", () => {
  assert.ok(isForbidden("doll", "sleep-eyes", { "findings/a": found("stringing", "slack-stringing") }));
  assert.ok(!isForbidden("doll", "sleep-eyes", { "findings/a": found("eyes/proper-left", "seized") }));
  assert.ok(isForbidden("watch", "set-hands", { "findings/a": found("dial", "hairline") }));
  assert.ok(!isForbidden("watch", "set-hands", { "findings/a": found("glass", "hairline") }));
  assert.ok(!isForbidden("watch", "set-hands", {}));
});

test("what is there, or is not, or was not seen forbids a test", () => {
  const fire = (value) => isForbidden("camera-scientific", "shutter-fire", { "zones/film-inside": value });
  assert.ok(fire(state("not-examined", "sealed")));
  assert.ok(!fire(state("not-examined", "not-applicable")));
  assert.ok(!fire(state("clear")));
  const light = (value) => isForbidden("doll", "light-head", { "zones/crown": value });
  assert.ok(light(state("not-examined", "not-applicable")));
  assert.ok(!light(state("clear")));
  const chipped = { "zones/enamel": state("finding"), "findings/a": found("enamel", "chip") };
  assert.ok(isForbidden("jewellery", "stone-tester", chipped));
  assert.ok(!isForbidden("jewellery", "stone-tester", { "zones/enamel": state("clear") }));
});
