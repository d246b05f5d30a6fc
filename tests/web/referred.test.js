/** What left with whoever was called never got a number, nor left the table by the ledger. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { referredTo, takenAway } from "../../web/job/referred.ts";
import { record, STOP, tag } from "./made.js";

const decided = (decision, more = {}) =>
  referredTo(
    record("item", "i", {
      ...{ "cautions/1": STOP, "caution-decisions/1": { decision, place: " those called " } },
      ...more,
    }),
  );

test("where it went is told of what was referred, and of nothing that has a number or was moved", () => {
  assert.equal(decided("referred"), "those called");
  assert.equal(decided("isolated"), "");
  assert.equal(decided("referred", { "tags/1": tag("1") }), "");
  const moved = { move_id: "m", from_place: "table", to_place: "store", at: "", tag: null };
  assert.equal(decided("referred", { whereabouts: moved }), "");
});

test("what was taken away is gone wherever its number was last, while nobody says otherwise", () => {
  const moved = { move_id: "m", from_place: "table", to_place: "holding", at: "", tag: null };
  const decided = (place, more = {}) => {
    const decision = { decision: "taken-away", place };
    return record("item", "i", {
      ...{ "cautions/1": STOP, "caution-decisions/1": decision, "tags/1": tag("1"), whereabouts: moved },
      ...more,
    });
  };
  assert.equal(takenAway(decided(" with the police")), "with the police");
  assert.equal(referredTo(decided("with the police")), "with the police");
  assert.equal(takenAway(decided("")), "taken away by an authority");
  assert.equal(takenAway(decided("", { "cautions/1": { ...STOP, level: "amber" } })), "");
  const otherwise = {
    field: "caution-decisions/1",
    kept: {},
    other: {},
    settled: null,
    disagreement_id: "d",
  };
  assert.equal(takenAway({ ...decided("gone"), disagreements: [otherwise] }), "");
});
