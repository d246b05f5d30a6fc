/** A load whose two counts differ is counted again by whoever counted it, until that ended or it has come. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { differenceOfCounts, goesOnWith, loadToCountAgain, scannedOf } from "../../web/job/load_again.ts";
import { record, set } from "./made.js";

const ME = "porter";
const at = (minute) => `2026-03-14T17:0${minute}:00.000Z`;
const counts = { to_place: "van", at: "", given_by: "Ana", taken_by: "Bo", driver: "", numbers: ["A", "B"] };
const load = (more = {}) => ({
  ...counts,
  ...{ crates: 3, pieces: 0, scanned_crates: 2, scanned_pieces: 0 },
  ...more,
});
const by = (value, minute, device_id = ME) => ({ ...set(value, at(minute)), device_id });
const raised = (words = differenceOfCounts(load())) => ({ difference: "load-count", words });
const day = (fields) => ({ ...record("day", "d", {}), fields });
const counted = (fields, device_id = ME) => {
  const one = { "loads/1": by(load(), 1), "differences/x": by(raised(), 1) };
  return loadToCountAgain(day({ ...one, ...fields }), device_id)?.difference_id;
};

test("a load is counted again while its two counts differ, on the device that counted it", () => {
  assert.equal(
    differenceOfCounts(load()),
    "Load to van: Bo counted 3 crates and 0 loose pieces; scanned: 2 and 0",
  );
  assert.equal(counted({}), "x");
  assert.equal(counted({}, "another"), undefined);
  assert.equal(counted({ "difference-ends/x": by({ ended: "corrected" }, 2) }), undefined);
  assert.equal(counted({ "loads/2": by(load({ crates: 2 }), 2) }), undefined, "the last count agrees");
  assert.equal(counted({ "loads/0": by(load({ crates: 2 }), 0) }), "x");
  assert.equal(counted({ "loads/2": by(load({ to_place: "store", of_load: "1" }), 2, "store") }), undefined);
  const earlier = { "loads/1": { ...by(load(), 2), device_seq: 1 } };
  const back = { "loads/2": { ...by(load({ crates: 2 }), 1), device_seq: 2 } };
  assert.equal(counted({ ...earlier, ...back }), undefined, "its clock was set back before the last count");
  assert.equal(
    counted({ "loads/2": by(load({ to_place: "store" }), 2) }),
    "x",
    "an arrival of nothing known",
  );
  assert.equal(counted({ "differences/x": by(raised(), 1, "another") }), undefined);
  assert.equal(loadToCountAgain(day({}), ME), null);
});

test("it goes on with the difference and the driver of that load, though something was taken out", () => {
  const first = load({ driver: "Dee" });
  const begun = { "loads/1": by(first, 1), "differences/x": by(raised(differenceOfCounts(first)), 1) };
  const again = loadToCountAgain(day(begun), ME);
  const goesOn = { before: "x", drove: "Dee" };
  assert.deepEqual(goesOnWith(again, "1", ["A"]), goesOn);
  assert.deepEqual(goesOnWith(again, "", ["C", "B", "A"]), goesOn, "it has all that the load had");
  const other = { before: "", drove: "" };
  assert.deepEqual(goesOnWith(again, undefined, ["A"]), other);
  assert.deepEqual(goesOnWith(again, "another", ["A"]), other);
  assert.deepEqual(goesOnWith(null, "1", ["A"]), other);
});

test("its rows are what was scanned of it", () => {
  const again = loadToCountAgain(day({ "loads/1": by(load(), 1), "differences/x": by(raised(), 1) }), ME);
  const move = (to_place, operation_id, minute) => ({
    ...by({ to_place, from_place: "holding", tag: null }, minute),
    operation_id,
  });
  const crate = {
    ...record("container", "c", {}, { number: "A", kind_of: "crate" }),
    fields: { "moves/1": move("holding", "first", 0), "moves/2": move("van", "second", 1) },
  };
  const [one, other] = scannedOf(again, [], [crate]);
  assert.deepEqual([one.tag, one.done.operation_id, one.done.before], ["A", "second", "holding"]);
  assert.deepEqual([other.tag, Boolean(other.done)], ["B", true]);
});

test("what was scanned and is not on record here came from where a load is packed", () => {
  const [one] = scannedOf({ load: load({ numbers: ["A"] }) }, [], []);
  assert.deepEqual([one.tag, one.done.operation_id, one.done.before], ["A", "", "holding"]);
});
