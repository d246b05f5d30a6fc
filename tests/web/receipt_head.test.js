/** A signed receipt stays under the house, place and date that it was signed under. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  headChanges,
  headNow,
  headOf,
  headOnTop,
  headWords,
  isRenamed,
  ticketSigned,
} from "../../web/job/receipt_head.ts";

const [BEFORE, SIGNED, AFTER] = ["10:00", "11:00", "12:00"].map((time) => `2026-03-14T${time}:00.000Z`);
const set = (value, made_at) => ({ value, operation_id: "", made_by: "", made_at, device_id: "" });
const FIRST = { house: "Old House", place: "Corn Hall", held_on: "2026-03-14" };
const day = (fields = {}) => ({ kind: "day", ...FIRST, tables: [], disagreements: [], fields });
const receipt = (head) => ({ id: "1", number: "Q01/1", what: "left", made_at: SIGNED, head });
const CORRECTED = { house: set("New House", AFTER), held_on: set("2026-03-15", AFTER) };

test("what was signed stays as it was, and what was corrected since is named with what it is now", () => {
  assert.deepEqual(headOf(receipt(FIRST), day(CORRECTED)), FIRST);
  assert.deepEqual(headChanges(receipt(FIRST), day(CORRECTED)), [
    "the house, now New House",
    "the date, now 15 March 2026",
  ]);
  assert.deepEqual(headChanges(receipt(FIRST), day()), []);
});

test("what was corrected before the signing was signed", () => {
  const corrected = day({ place: set("Guildhall", BEFORE) });
  assert.deepEqual(headChanges(receipt(headNow(corrected)), corrected), []);
  assert.deepEqual(headChanges(receipt(undefined), corrected), [], "of an app of before, too");
  assert.equal(headOf(receipt(undefined), corrected).place, "Guildhall");
});

test("one that was signed between two corrections stays under what it was signed under, whatever the clocks say", () => {
  const between = { ...FIRST, house: "House Between" };
  assert.equal(headOf(receipt(between), day(CORRECTED)).house, "House Between");
  assert.equal(headOf(receipt(between), day({ house: set("New House", BEFORE) })).house, "House Between");
});

test("a receipt that says no head stands under what the day was set up with, if that was corrected since", () => {
  assert.deepEqual(headOf(receipt(undefined), day(CORRECTED)), FIRST);
});

test("the top of a screen has the head of now while nothing is signed, and never over what was signed under another", () => {
  const now = { ...FIRST, house: "New House", held_on: "2026-03-15" };
  assert.deepEqual(headOnTop([], "left", day(CORRECTED)), now);
  assert.deepEqual(headOnTop([receipt(FIRST)], null, day(CORRECTED)), FIRST);
  assert.equal(headOnTop([receipt(FIRST)], "left", day(CORRECTED)), null);
  assert.equal(headOnTop([receipt(FIRST), receipt(now)], null, day(CORRECTED)), null);
});

test("a head is read as the house, the place and the date in words", () => {
  // Common practice: the date of a receipt is written out.
  assert.equal(headWords(FIRST), "Old House, Corn Hall, 14 March 2026");
});

test("whose receipt it is stays as it was signed: another ticket and another name are named as what they are now", () => {
  const visit = (fields) => ({ kind: "visit", record_id: "v", disagreements: [], fields });
  const signed = receipt(FIRST);
  const changes = (fields) => headChanges(signed, day(), visit(fields));
  const [before, after] = [set("Bert", BEFORE), set("Bert Betterman", AFTER)];
  assert.deepEqual(
    changes({ ticket: set("q01", AFTER), "consignor/name": before }),
    [],
    "however it is typed",
  );
  assert.deepEqual(changes({ ticket: set("B01", AFTER), "consignor/name": after }), [
    "the ticket, now B01",
    "the owner’s name, now Bert Betterman",
  ]);
  assert.equal(ticketSigned(signed), "Q01");
  assert.equal(ticketSigned({ number: "A/B/2" }), "A/B");
  assert.equal(isRenamed(signed, visit({})), false, "nor where no name is read here");
});
