/**
 * Overall condition against worked examples (a proposal, invented; reckoned by hand and by another script), and
 * against what must hold for every item. Chance is seeded.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { overallCondition } from "../../web/job/condition.ts";
import { keysOf } from "../../web/job/progress.ts";
import { chance } from "./chance.js";

const { plans, cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/condition.json", import.meta.url), "utf-8"),
);
const WORDS = ["excellent", "very good", "good", "fair", "poor", "as found"];

const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });

function itemOf(zones, { not_applicable = [], not_examined = {}, findings = [] }, onMembers = []) {
  const fields = {};
  for (const zone of zones) {
    const reason = not_applicable.includes(zone.zone) ? "not-applicable" : (not_examined[zone.zone] ?? null);
    for (const key of keysOf(zone))
      fields[`zones/${key}`] = set({ state: reason ? "not-examined" : "clear", reason });
  }
  findings.forEach((finding, number) => {
    const zone = zones.find((one) => one.zone === finding.zone);
    fields[`findings/${number}`] = set({ withdrawn: false, ...finding, zone: keysOf(zone).at(-1) });
    fields[`zones/${keysOf(zone).at(-1)}`] = set({ state: "finding", reason: null });
  });
  for (const [number, finding] of onMembers.entries())
    fields[`findings/on-member-${number}`] = set({ withdrawn: false, side: null, ...finding });
  return { fields };
}

for (const one of cases) {
  test(`worked example ${one.name}: ${one.expected.word ?? one.expected.not_graded}`, () => {
    const zones = plans[one.class_id];
    const found = overallCondition({ zones }, itemOf(zones, one));
    assert.equal(found.word, one.expected.word);
    assert.equal(found.not_graded, one.expected.not_graded);
    assert.equal(found.so_far, one.expected.so_far);
    assert.equal(found.coverage.toFixed(2), one.expected.coverage.toFixed(2));
    if (one.expected.index !== null) assert.equal(found.index.toFixed(1), one.expected.index.toFixed(1));
  });
}

test("a blank is never good: an item nobody looked at is not graded", () => {
  assert.equal(overallCondition({ zones: plans.doll }, { fields: {} }).not_graded, "too little examined");
});

test("another finding never makes an item better, and the order of entry changes nothing", () => {
  const below = chance(20260314);
  const terms = ["crack", "stain", "replaced-part", "repainted"];
  for (let round = 0; round < 400; round += 1) {
    const zones = Object.values(plans)[below(Object.keys(plans).length)];
    const findings = Array.from({ length: 1 + below(6) }, () => ({
      zone: zones[below(zones.length)].zone,
      term: terms[below(4)],
      severity: below(5),
      activity: ["n", "w", "P"][below(3)],
    }));
    const whole = overallCondition({ zones }, itemOf(zones, { findings }));
    const without = overallCondition({ zones }, itemOf(zones, { findings: findings.slice(0, -1) }));
    assert.ok(WORDS.indexOf(whole.word) >= WORDS.indexOf(without.word), JSON.stringify(findings));
    assert.ok(whole.index >= without.index);
    assert.deepEqual(
      overallCondition({ zones }, itemOf(zones, { findings: [...findings].reverse() })),
      whole,
    );
  }
});

test("what was found alike on both of a pair is one finding; two alike on one of them are two", () => {
  const zones = plans.doll;
  const alike = (...members) =>
    overallCondition(
      { zones },
      itemOf(
        zones,
        { findings: [] },
        members.map((member) => ({ zone: `eyes/${member}`, term: "stiff", severity: 1 })),
      ),
    ).index;
  const one = alike("proper-left");
  assert.ok(one > 0);
  assert.equal(alike("proper-left", "proper-right"), one);
  assert.equal(alike("proper-left", "proper-left"), one * 1.5);
});
