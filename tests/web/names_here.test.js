/** What people are called at a desk, where the day's list and what came with an entry say it otherwise. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { namesHere } from "../../web/screens/cataloguing/names_here.ts";

const day = (name) => ({ fields: { "people/h": { value: { person_id: "h", name, roles: [] } } } });

test("a name that is put right on the day's list stands in the entry that is open", () => {
  assert.equal(namesHere(day("Hester Quill"), { h: "Hester Quil" })("h"), "Hester Quill");
});

test("whoever is on no list held here is called as the office told", () => {
  assert.equal(namesHere(day("Hester"), { o: "Otis" })("o"), "Otis");
  assert.equal(namesHere(null, { h: "Hester" })("h"), "Hester");
  assert.equal(namesHere(null)("h"), "somebody not on a list");
});
