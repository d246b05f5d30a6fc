/**
 * What a stopped item still takes, by the same cases as at the office; what may go home; which trials are withdrawn.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { idsOfThing } from "../../web/job/doubles.ts";
import { isGivenBack, mayGoHome } from "../../web/job/goes_home.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { missing } from "../../web/job/progress.ts";
import { receiptState } from "../../web/job/receipt.ts";
import {
  kindsAllowed,
  mayBeReturned,
  mayStill,
  stillAllowed,
  stillWords,
  stopsOn,
  withdrawnBy,
} from "../../web/job/stopped.ts";
import { differencesOn } from "./differences_of.js";
import { book } from "./plan_book.js";

const { cases } = JSON.parse(readFileSync(new URL("../../fixtures/stopped.json", import.meta.url), "utf-8"));
const pack = book.cautions;
const rowOf = (hazard) => pack.cautions.find((row) => row.hazard === hazard);
/** An item on which a sign was raised, as the app raises it. */
const raised = (hazard, more = {}) => ({
  fields: {
    "cautions/1": {
      value: {
        hazard,
        level: rowOf(hazard)?.level ?? "red",
        sign: "",
        still_allowed: rowOf(hazard)?.still_allowed ?? null,
      },
    },
    ...more,
  },
  disagreements: [],
});

test("of a stopped item the paragraph says that it is held, and nothing of how it is", () => {
  const plan = book.plans.glass;
  const zones = Object.fromEntries(
    plan.zones.map(({ zone }) => [
      `zones/${zone}`,
      { value: { state: "clear", reason: null, light: "lamp", count: null } },
    ]),
  );
  const words = conditionParagraph(plan, book, raised("H02", zones)).map((one) => one.words);
  assert.equal(words.length, 1);
  assert.match(words[0], /^held back, and not offered until cleared/i);
  assert.ok(conditionParagraph(plan, book, raised("H20", zones)).length > 1);
});

const NOTHING = { fields: {}, disagreements: [] };
const decided = (decision) => ({ "caution-decisions/1": { value: { decision, decided_by: "the police" } } });

for (const one of cases) {
  test(one.says, () => {
    assert.deepEqual(stillAllowed(one.stops).sort(), one.still_allowed);
    assert.deepEqual([...kindsAllowed(one.stops)].sort(), one.kinds);
  });
}

test("a red caution on a record stops as its row says, until somebody has decided", () => {
  assert.deepEqual(stopsOn(raised("H02")), [{ still_allowed: [], decided: false }]);
  assert.deepEqual(stopsOn(raised("H01")), [
    { still_allowed: ["place", "photo-from-distance"], decided: false },
  ]);
  assert.equal(stopsOn(raised("H02", decided("referred")))[0]?.decided, true);
  assert.deepEqual(stopsOn(raised("H02", decided("cleared"))), []);
  assert.deepEqual(stopsOn(raised("H26")), [], "amber stops nothing");
});

test("what was allowed when the caution was raised holds, whatever the pack says today", () => {
  const then = {
    fields: { "cautions/1": { value: { hazard: "H02", level: "red", sign: "", still_allowed: ["place"] } } },
    disagreements: [],
  };
  assert.deepEqual(stopsOn(then), [{ still_allowed: ["place"], decided: false }]);
});

test("a red caution that does not say allows nothing", () => {
  assert.deepEqual(stopsOn(raised("H77")), [{ still_allowed: [], decided: false }]);
  assert.equal(mayGoHome(raised("H77"), pack), false);
});

test("one that cleared it and one that did not: it stays stopped, and nobody carries it", () => {
  const contested = (first, second) => ({
    ...raised("H01", decided(first)),
    disagreements: [
      {
        field: "caution-decisions/1",
        kept: decided(first)["caution-decisions/1"],
        other: decided(second)["caution-decisions/1"],
        settled: null,
      },
    ],
  });
  for (const item of [contested("cleared", "referred"), contested("referred", "cleared")])
    assert.deepEqual(stopsOn(item), [{ still_allowed: ["place", "photo-from-distance"], decided: false }]);
});

test("what a stopped item may still have is said in words, and no more than that", () => {
  assert.equal(stillWords(stopsOn(raised("H02"))), "Nothing more is done with it: keep away.");
  assert.equal(
    stillWords(stopsOn(raised("H01"))),
    "All it may still have: its place said and a picture from a distance.",
  );
  assert.equal(
    stillWords(stopsOn(raised("H02", decided("referred")))),
    "All it may still have: its place said, its tag, a move and a check against its pictures.",
  );
});

test("of a stopped item nothing is asked, by its screens, its receipt or the closing", () => {
  const item = { ...raised("H02"), kind: "item", record_id: "i", visit_id: "v", day_id: "d" };
  assert.deepEqual(missing(book.plans.glass, item), []);
  assert.ok(
    missing(book.plans.glass, { ...item, fields: {} }).length > 5,
    "of one that goes on all is asked",
  );
  const visit = { kind: "visit", record_id: "v", day_id: "d", fields: {}, disagreements: [] };
  const { here, stopped, untagged } = receiptState(visit, [item], new Map());
  assert.deepEqual([here, stopped, untagged], [[], [item], []]);
  const day = { kind: "day", record_id: "d", tables: [], fields: {}, disagreements: [] };
  const found = differencesOn({
    day,
    visits: [],
    items: [item],
    containers: [],
    plan: () => book.plans.glass,
  });
  assert.deepEqual(
    found.map(({ kind }) => kind),
    ["stopped"],
  );
});

test("it goes home only if every caution that stands lets it", () => {
  assert.equal(mayGoHome(NOTHING, pack), true);
  assert.equal(mayGoHome(raised("H26"), pack), true);
  for (const hazard of ["H01", "H02", "H45", "H58", "H60", "H64"])
    assert.equal(mayGoHome(raised(hazard), pack), false, hazard);
  assert.equal(
    mayGoHome(raised("H26", { "cautions/2": { value: { hazard: "H58", level: "amber", sign: "" } } }), pack),
    false,
  );
});

test("it goes back once that was decided of every red caution on it", () => {
  const second = (decision) => ({
    "cautions/2": { value: { hazard: "H01", level: "red", sign: "" } },
    ...(decision && { "caution-decisions/2": { value: { decision } } }),
  });
  const returned = (other) => mayBeReturned(raised("H02", { ...decided("returned"), ...other }));
  assert.deepEqual([{}, second("returned"), second("referred"), second(null)].map(returned), [
    true,
    true,
    false,
    false,
  ]);
  assert.equal(mayBeReturned(NOTHING), true);
  assert.equal(isGivenBack(NOTHING, undefined), true, "whether there is a pack or not");
  assert.equal(isGivenBack(raised("H26"), undefined), false, "nobody knows what the row says");
  assert.deepEqual([isGivenBack(raised("H26"), pack), isGivenBack(raised("H02"), pack)], [true, false]);
});

test("a trial that a standing caution forbids is withdrawn, and comes back once that is cleared", () => {
  const stopper = book.plans.glass.tests.find((one) => one.test === "stopper");
  assert.deepEqual(withdrawnBy(stopper, raised("H18")), ["H18"]);
  assert.deepEqual(withdrawnBy(stopper, raised("H18", decided("cleared"))), []);
  assert.deepEqual(withdrawnBy(stopper, raised("H31")), []);
});

test("photo and tag are asked for only if the rows allow them, and of what nothing stops always", () => {
  assert.equal(mayStill(NOTHING, "tag"), true);
  assert.equal(mayStill(raised("H26"), "tag"), true, "amber");
  assert.equal(mayStill(raised("H02"), "photo", "photo-from-distance"), false);
  assert.equal(mayStill(raised("H01"), "photo", "photo-from-distance"), true);
  assert.equal(mayStill(raised("H01"), "tag"), false);
  assert.equal(mayStill(raised("H02", decided("referred")), "tag"), true, "once somebody has decided");
});

test("a stop holds for the thing, whichever of its records has it", () => {
  const behind = raised("H02");
  const front = { ...NOTHING, doubles: [behind] };
  assert.equal(mayStill(front, "photo", "move"), false);
  assert.deepEqual(stopsOn(front), [{ still_allowed: [], decided: false }]);
  assert.equal(mayGoHome(front, pack), false);
  const decidedOn = { ...NOTHING, doubles: [raised("H02", decided("referred"))] };
  assert.equal(stopsOn(decidedOn)[0]?.decided, true, "the decision stands on the record that was stopped");
});

test("of one thing are all that were merged into one another, over however many", () => {
  const behind = new Map([
    ["c", "b"],
    ["b", "a"],
    ["e", "d"],
  ]);
  for (const id of ["a", "b", "c"]) assert.deepEqual(idsOfThing(id, behind).sort(), ["a", "b", "c"]);
  assert.deepEqual(idsOfThing("f", behind), ["f"]);
});

test("of a stopped item the description is its name: how it lay is told to nobody", () => {
  const seen = { seen_words: { value: "Left as it was found, the lid half open" } };
  const named = { short_description: { value: "tin" } };
  const of = (hazard) => lotDescription(book.plans.glass, book, raised(hazard, { ...seen, ...named }));
  assert.deepEqual(
    of("H02").map(({ words }) => words),
    ["A tin."],
  );
  assert.equal(of("H20").length, 2);
});
