/** What is on record of a thing forbids a test on it, by what its plan has. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isForbiddenBeside } from "../../web/job/forbidden_tests.ts";
import { restUntried } from "../../web/job/rest_untried.ts";
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

test("what is cracked or mended is not tapped, and of what is broken nobody tries whether it stands", () => {
  const ring = (term) => isForbidden("ceramics", "ring", { "findings/a": found("rim", term) });
  for (const term of ["crack", "hairline", "break", "restuck", "rivet-repair", "retouched"])
    assert.ok(ring(term), term);
  assert.ok(!ring("chip"));
  assert.ok(isForbidden("ceramics", "ring", { "findings/a": found("applied", "chip") }), "of a figure");
  assert.ok(isForbidden("glass", "ring", { "findings/a": found("bowl", "crack") }));
  assert.ok(isForbidden("furniture", "rock", { "findings/a": found("legs/front-left", "break") }));
  assert.ok(!isForbidden("furniture", "rock", { "findings/a": found("top", "break") }));
});

test("what nobody tried is left for want of time, but for what a finding or a caution forbids", () => {
  const plan = book.plans.ceramics;
  const leftOf = (values) => {
    const left = restUntried(plan, record("item", "i", values));
    return Object.fromEntries(left.map(({ test, why }) => [test, why]));
  };
  const all = leftOf({ "zones/cover": state("clear") });
  assert.deepEqual([all.ring, all["cover-fit"]], ["no-time", "no-time"]);
  const chipped = leftOf({ "zones/cover": state("finding"), "findings/a": found("cover", "chip") });
  assert.deepEqual([chipped.ring, chipped["cover-fit"]], ["no-time", "unsafe-object"]);
  const said = { "tests/ring": { result: "works", why: "", note: "" } };
  assert.ok(!("ring" in leftOf(said)));
  const caution = { hazard: "H08", level: "amber", words: "" };
  assert.equal(leftOf({ "cautions/c": caution }).ring, "held back as a precaution");
});

test("a look by whose light something was denied is not swept away as not made", () => {
  const plan = book.plans["stringed-instrument"];
  const denial = { zone: "back", term: "crack", light: "inside-lamp", withdrawn: false };
  const names = (values) => restUntried(plan, record("item", "i", values)).map(({ test }) => test);
  assert.ok(names({}).includes("inside-look"));
  assert.ok(!names({ "denials/d": denial }).includes("inside-look"));
  assert.ok(names({ "denials/d": { ...denial, withdrawn: true } }).includes("inside-look"));
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
