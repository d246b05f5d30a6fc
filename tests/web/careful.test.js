/** Where two people said otherwise, the more careful holds on a device, until a person has settled it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isHeldApart } from "../../web/job/cautions.ts";
import { isPrivate, ownerWords } from "../../web/job/values.ts";

const by = (value, operation_id = "o") => ({
  value,
  operation_id,
  device_id: "d",
  made_by: "p",
  made_at: "",
});
const between = (field, kept, other, settled = null) => ({
  disagreement_id: "d1",
  field,
  kept: by(kept),
  other: by(other),
  settled,
});
const record = (fields, ...disagreements) => ({ fields, disagreements });

test("a visit is private for as long as either of two says so", () => {
  const name = { "consignor/name": by("Barnaby Tumblewick") };
  for (const two of [between("private", "", "yes"), between("private", "yes", "")]) {
    const visit = record({ ...name, private: by("") }, two);
    assert.equal(isPrivate(visit), true);
    assert.equal(ownerWords(visit), "Private");
    assert.equal(isPrivate(record(visit.fields, { ...two, settled: { choose: "standing" } })), false);
  }
  assert.equal(isPrivate(record({})), false);
  assert.equal(isPrivate(record({ private: by("yes") })), true);
  assert.equal(isPrivate(undefined), false);
});

test("what one of two set apart is held apart, also once another word has come into force", () => {
  const decided = (decision) => ({ decision });
  const fields = { "caution-decisions/c": by(decided("returned")) };
  for (const [kept, other] of [
    ["isolated", "cleared"],
    ["cleared", "isolated"],
  ]) {
    const two = between("caution-decisions/c", decided(kept), decided(other));
    assert.equal(isHeldApart(record(fields, two)), true, kept);
  }
});

test("a finding of which two say otherwise holds apart if it may spread by the word of either", () => {
  const seen = (activity) => ({ zone: "body", term: "mould", severity: 2, activity, withdrawn: false });
  const held = (kept, other) => isHeldApart(record({}, between("findings/1", seen(kept), seen(other))));
  assert.deepEqual([held("Q", "n"), held("n", "Q"), held("n", "w")], [true, true, false]);
});

test("what was decided to be set apart is held apart, whatever its caution asks", () => {
  const decided = (decision) => record({ "caution-decisions/c": by({ decision }) });
  assert.equal(isHeldApart(decided("isolated")), true);
  assert.equal(isHeldApart(decided("cleared")), false);
});
