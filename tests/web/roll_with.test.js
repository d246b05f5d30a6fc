/** Whose roll a number is of. Source: common practice: each table ties the numbers of its own roll. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { printedFor, rollOfAnother, rollWith } from "../../web/job/roll_with.ts";
import { run, shown } from "../../web/job/tag.ts";
import { record } from "./made.js";

const [first, second, beyond] = run("00002Y", 3);
const day = (holder) =>
  record("day", "d", { "rolls/r": { first_tag: first, count: 2 }, "roll-holders/r": holder });
const ofTable = day({ given_to: "Table 1", for_device_id: "t1" });
const porter = { device_id: "p", name: "Porter" };

test("a number of a table's roll is nobody else's for a crate, however it was typed", () => {
  assert.equal(rollOfAnother(ofTable, second, porter), "Table 1");
  assert.equal(rollOfAnother(ofTable, ` ${shown(second).toLowerCase()} `, porter), "Table 1");
  assert.equal(rollOfAnother(ofTable, beyond, porter), "", "of no roll");
  assert.equal(rollOfAnother(ofTable, second, { device_id: "t1", name: "Table 1" }), "", "its own");
  assert.equal(rollOfAnother(day({ given_to: "spare", for_device_id: null }), second, porter), "");
  assert.equal(rollOfAnother(null, second, porter), "", "the day is not on this device");
});

test("what is typed as a seal is asked of only if it is a number of a roll", () => {
  assert.equal(rollWith(ofTable, first).given_to, "Table 1");
  assert.equal(rollWith(ofTable, "S-4711"), null);
  assert.equal(rollWith(ofTable, ""), null);
});

test("what a number's label was printed for is told by the newest print that has it", () => {
  const row = [{ first_tag: first, count: 2 }];
  const printed = record("day", "d", {
    "prints/1": { roll_id: "r", label: "crate", rows: row },
    "prints/2": { roll_id: "r", label: "tag", rows: [{ first_tag: beyond, count: 1 }] },
  });
  assert.equal(printedFor(printed, first), "crate");
  assert.equal(printedFor(printed, beyond), "tag");
  assert.equal(printedFor(ofTable, first), "", "none on record");
});
