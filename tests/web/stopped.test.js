/** What a stopped item still takes, by the same cases as at the office; what may go home; which trials are withdrawn. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import {
  kindsAllowed,
  mayGoHome,
  mayStill,
  stillAllowed,
  stopsOn,
  withdrawnBy,
} from "../../web/job/stopped.ts";
import { book } from "./plan_book.js";

const { cases } = JSON.parse(readFileSync(new URL("../../fixtures/stopped.json", import.meta.url), "utf-8"));
const pack = book.cautions;
const raised = (hazard, more = {}) => ({
  fields: {
    "cautions/1": {
      value: { hazard, level: pack.cautions.find((row) => row.hazard === hazard)?.level ?? "red", sign: "" },
    },
    ...more,
  },
});
const decided = (decision) => ({ "caution-decisions/1": { value: { decision, decided_by: "the police" } } });

for (const one of cases) {
  test(one.says, () => {
    assert.deepEqual(stillAllowed(one.stops).sort(), one.still_allowed);
    assert.deepEqual([...kindsAllowed(one.stops)].sort(), one.kinds);
  });
}

test("a red caution on a record stops as its row says, until somebody has decided", () => {
  assert.deepEqual(stopsOn(raised("H02"), pack), [{ still_allowed: [], decided: false }]);
  assert.deepEqual(stopsOn(raised("H01"), pack), [
    { still_allowed: ["place", "photo-from-distance"], decided: false },
  ]);
  assert.equal(stopsOn(raised("H02", decided("referred")), pack)[0]?.decided, true);
  assert.deepEqual(stopsOn(raised("H02", decided("cleared")), pack), []);
  assert.deepEqual(stopsOn(raised("H26"), pack), [], "amber stops nothing");
});

test("what was allowed when the caution was raised holds, whatever the pack says today", () => {
  const then = {
    fields: { "cautions/1": { value: { hazard: "H02", level: "red", sign: "", still_allowed: ["place"] } } },
  };
  assert.deepEqual(stopsOn(then, pack), [{ still_allowed: ["place"], decided: false }]);
});

test("a red caution that the pack no longer has allows nothing", () => {
  assert.deepEqual(stopsOn(raised("H77"), pack), [{ still_allowed: [], decided: false }]);
  assert.equal(mayGoHome(raised("H77"), pack), false);
});

test("it goes home only if every caution that stands lets it", () => {
  assert.equal(mayGoHome({ fields: {} }, pack), true);
  assert.equal(mayGoHome(raised("H26"), pack), true);
  for (const hazard of ["H01", "H02", "H45", "H58", "H60", "H64"])
    assert.equal(mayGoHome(raised(hazard), pack), false, hazard);
  assert.equal(
    mayGoHome(raised("H26", { "cautions/2": { value: { hazard: "H58", level: "amber", sign: "" } } }), pack),
    false,
  );
});

test("a trial that a standing caution forbids is withdrawn, and comes back once that is cleared", () => {
  const stopper = book.plans.glass.tests.find((one) => one.test === "stopper");
  assert.deepEqual(withdrawnBy(stopper, raised("H18")), ["H18"]);
  assert.deepEqual(withdrawnBy(stopper, raised("H18", decided("cleared"))), []);
  assert.deepEqual(withdrawnBy(stopper, raised("H31")), []);
});

test("photo and tag are asked for only if the rows allow them, and of what nothing stops always", () => {
  assert.equal(mayStill({ fields: {} }, pack, "tag"), true);
  assert.equal(mayStill(raised("H26"), pack, "tag"), true, "amber");
  assert.equal(mayStill(raised("H02"), pack, "photo", "photo-from-distance"), false);
  assert.equal(mayStill(raised("H01"), pack, "photo", "photo-from-distance"), true);
  assert.equal(mayStill(raised("H01"), pack, "tag"), false);
  assert.equal(mayStill(raised("H02", decided("referred")), pack, "tag"), true, "once somebody has decided");
});
