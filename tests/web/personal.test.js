/** Which members of an operation are an owner's words. */
import assert from "node:assert/strict";
import { test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { personalIn } from "../../web/job/operation.ts";
import { isOfOwner } from "../../web/job/owners_words.ts";

const move = (more) => ({
  kind: "record_move",
  ...{ from_place: "table", to_place: "store", at: "bay 2", given_by: "Hester", taken_by: "Jonty" },
  ...more,
});

test("of a move the owner at either end is, and nobody of the house", () => {
  assert.deepEqual(personalIn(move()), []);
  assert.deepEqual(personalIn(move({ to_place: "returned", at: "" })), ["salt", "taken_by"]);
  assert.deepEqual(personalIn(move({ to_place: "returned" })), ["salt", "taken_by", "at"]);
  assert.deepEqual(personalIn(move({ from_place: "returned" })), ["salt", "given_by"]);
  assert.deepEqual(personalIn(move({ to_place: "returned", at: "", taken_by: "the owner" })), []);
});

test("of a finding the note is, where nobody but the owner says so", () => {
  const finding = { kind: "record_finding", finding_id: "f", note: "her aunt dropped it" };
  assert.deepEqual(personalIn({ ...finding, certainty: "told" }), ["salt", "note"]);
  for (const certainty of ["certain", null]) assert.deepEqual(personalIn({ ...finding, certainty }), []);
  assert.ok(isOfOwner("finding-notes/f") && !isOfOwner("findings/f"), "and leaves a device with the owner");
});
