/** A thing is asked only for what it has: a clock without weights for its pendulum. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { asked, isTest } from "../../web/job/progress.ts";
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

/** What a plan's words call one of its zones, in the one and in the many. */
const namesOf = (zone) => {
  const name = zone.replaceAll("-", " ");
  return [name, name.replace(/s$/, ""), `${name}s`];
};
/** The scale that lies beside a thing is none of its own. */
const BESIDE = ["with-scale-and-tag"];

test("no picture, size or trial speaks of a part that a thing never had", () => {
  const left = [];
  for (const { class_id, zones, views, measures, tests } of Object.values(book.plans)) {
    const of = book.plans[class_id];
    for (const { zone, optional, members } of zones) {
      if (!optional || Array.isArray(members)) continue;
      const record = recordOf({ [`zones/${zone}`]: NEVER });
      const rows = [...views, ...measures, ...tests.filter(isTest)];
      for (const one of rows.filter(({ view }) => !BESIDE.includes(view))) {
        const [kept] = asked(of, record, [one]);
        if (!kept) continue;
        const { words = "", how = "", bases = [] } = worded(of, record, kept);
        const said = [words || how, ...bases].join("; ");
        const names = namesOf(zone).filter((name) => new RegExp(`\\b${name}\\b`).test(said));
        const row = one.view ?? one.measure ?? one.test;
        if (names.length) left.push([class_id, zone, row, said]);
      }
    }
  }
  assert.deepEqual(left, []);
});
