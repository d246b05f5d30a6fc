/** Who comes again is found by their ticket, or by what they are called on this device. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { visitsFound } from "../../web/job/was_here.ts";
import { record } from "./made.js";

const visits = [
  record("visit", "vane", { ticket: "Q04", "consignor/name": "Ottoline  van der Vane" }),
  record("visit", "elsewhere", { ticket: "Q14", called: "Otto" }),
  record("visit", "private", { ticket: "Q104", "consignor/name": "Otto Fallow", private: "yes" }),
  record("visit", "own letters", { ticket: "BRAF07", "consignor/name": "" }),
  record("visit", "changed", { ticket: "Q20", "tickets-before/o1": "Q19", "consignor/name": "Ada" }),
];
const found = (typed) => visitsFound(visits, typed).map(({ record_id }) => record_id);

test("a ticket is found as it is written, and as somebody remembers it", () => {
  for (const typed of ["Q04", "q04", " q 04 ", "q4", "4", "04"])
    assert.deepEqual(found(typed), ["vane"], typed);
  assert.deepEqual(found("104"), ["private"]);
  assert.deepEqual(found("braf7"), ["own letters"]);
  assert.deepEqual(found("q19"), ["changed"], "the slip that they may hold still");
  assert.deepEqual(found("q2"), [], "no number is the beginning of another");
});

test("a name is found by the beginnings of its words, in any order", () => {
  assert.deepEqual(found("otto"), ["vane", "elsewhere"]);
  assert.deepEqual(found("VANE otto"), ["vane"]);
  assert.deepEqual(found("ane"), []);
});

test("a private owner is found by the ticket alone, and nobody by nothing", () => {
  for (const typed of ["fallow", "private", "Otto F", "", "  "]) assert.deepEqual(found(typed), [], typed);
});
