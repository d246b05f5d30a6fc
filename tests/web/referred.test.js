/** What left with whoever was called never got a number, nor left the table by the ledger. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { referredTo } from "../../web/job/referred.ts";
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
