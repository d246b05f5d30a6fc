/** A day as it was set up, and as the manager corrected it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  dayFacts,
  dayWords,
  namesToChoose,
  peopleHere,
  tablesApart,
  tablesOf,
  tablesOfOneName,
} from "../../web/job/day_facts.ts";
import { mayAllow } from "../../web/job/may_allow.ts";
import { freeTableName, othersHere, othersThan } from "../../web/job/others_here.ts";
import { tablesOfDays } from "../../web/job/tables_of_days.ts";
import { ownerWords } from "../../web/job/values.ts";

const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const day = (fields = {}) => ({
  kind: "day",
  record_id: "d",
  disagreements: [],
  house: "Thimblewick's Saleroom",
  place: "Old Corn Hall",
  held_on: "2026-03-14",
  currency: "GBP",
  tables: [
    { table_id: "1", name: "Table 1" },
    { table_id: "2", name: "Table 2" },
  ],
  fields: Object.fromEntries(Object.entries(fields).map(([name, value]) => [name, set(value)])),
});

test("what was corrected stands, the rest is as it was set up", () => {
  assert.equal(dayWords(day()), "14 March 2026: Thimblewick's Saleroom, Old Corn Hall");
  const corrected = day({ held_on: "2026-03-15", place: "Guildhall" });
  assert.equal(dayWords(corrected), "15 March 2026: Thimblewick's Saleroom, Guildhall");
  assert.equal(dayFacts(corrected).currency, "GBP");
});

test("a table is renamed in its place, one that came is last, one that went is offered no more", () => {
  const changed = day({
    "tables/1": { name: "By the stage", gone: false },
    "tables/2": { name: "Table 2", gone: true },
    "tables/3": { name: "Table 3", gone: false },
  });
  const names = (tables) => tables.map(({ name }) => name);
  assert.deepEqual(names(dayFacts(changed).tables), ["By the stage", "Table 3"]);
  assert.deepEqual(names(tablesOf(changed)), ["By the stage", "Table 2", "Table 3"]);
});

test("tables of one name are told apart where one is chosen, in one order on every device", () => {
  const added = { "tables/02": { name: "table  2", gone: false }, "tables/a": { name: "Hall", gone: false } };
  const two = day({ ...added, "tables/c": { name: "Hall", gone: true } });
  const words = (day) => tablesApart(day).map(({ table_id, words }) => [table_id, words]);
  assert.deepEqual(words(two).sort(), [
    ["02", "table  2 B"],
    ["1", "Table 1"],
    ["2", "Table 2 A"],
    ["a", "Hall A"],
    ["c", "Hall B"],
  ]);
  assert.deepEqual(
    tablesOfOneName(two).map((tables) => tables.map(({ table_id }) => table_id)),
    [
      ["2", "02"],
      ["a", "c"],
    ],
  );
  assert.deepEqual(tablesOfOneName(day()), []);
  assert.deepEqual(
    dayFacts(two).tables.map(({ name }) => name),
    ["Table 1", "Table 2", "table  2", "Hall"],
    "on record they stand as they were named",
  );
});

test("one table more takes a name that none has, nor had", () => {
  assert.equal(freeTableName(day()), "Table 3");
  assert.equal(freeTableName(day({ "tables/1": { name: "Table 3", gone: false } })), "Table 4");
  assert.equal(freeTableName(day({ "tables/x": { name: " table 4", gone: true } })), "Table 5");
});

test("who has left is offered nowhere, and who came back is again", () => {
  const person = (person_id, more) => ({ person_id, name: person_id, roles: ["valuer"], ...more });
  const people = { "people/a": person("a"), "people/b": person("b", { left: true }) };
  const here = (fields) => peopleHere(day(fields)).map(({ person_id }) => person_id);
  assert.deepEqual(here(people), ["a"]);
  assert.deepEqual(here({ ...people, "people/b": person("b", { left: false }) }), ["a", "b"]);
});

test("who wants no name in the hall is called by the ticket, whatever the device reads", () => {
  const visit = (fields) => ({
    disagreements: [],
    fields: Object.fromEntries(Object.entries(fields).map(([name, value]) => [name, set(value)])),
  });
  const named = { "consignor/name": "Barnaby Tumblewick", called: "Barnaby" };
  assert.equal(ownerWords(visit(named)), "Barnaby Tumblewick");
  assert.equal(ownerWords(visit({ ...named, private: "yes" })), "Private");
  assert.equal(ownerWords(visit({ ...named, private: "" })), "Barnaby Tumblewick");
});

test("nobody stands beside themselves, listed twice or written otherwise", () => {
  const listedTwice = day({
    "people/ana": { person_id: "ana", name: "Ana Thistle", roles: ["porter"] },
    "people/ana2": { person_id: "ana2", name: " ana  thistle", roles: ["valuer"] },
    "people/bo": { person_id: "bo", name: "Bo Fennel", roles: ["porter"] },
    "people/gone": { person_id: "gone", name: "Dee Sorrel", roles: ["porter"], left: true },
  });
  const others = (person_id) => othersHere(listedTwice, person_id).map((one) => one.person_id);
  assert.deepEqual(others("ana"), ["bo"]);
  assert.deepEqual(others("bo"), ["ana2", "ana"], "by name");
  assert.deepEqual(others(""), ["ana2", "ana", "bo"], "nobody has said who is here");
  const beside = (name) => othersThan(listedTwice, name).map((one) => one.person_id);
  assert.deepEqual(beside("ANA THISTLE"), ["bo"], "whoever is at the device");
});

test("two of one name who stand beside somebody are told apart, and are recorded so", () => {
  const person = (person_id, name, role) => ({
    [`people/${person_id}`]: set({ person_id, name, roles: [role] }),
  });
  const listed = {
    ...day(),
    fields: {
      ...person("p1", "Ana Thistle", "table"),
      ...person("p2", "Cy Orchard", "porter"),
      ...person("p3", "cy ORCHARD", "table"),
    },
  };
  assert.deepEqual(
    othersHere(listed, "p1").map(({ person_id, name }) => [person_id, name]),
    namesToChoose(listed).filter(([id]) => id !== "p1"),
  );
  assert.deepEqual(
    new Set(othersHere(listed, "p1").map(({ name }) => name)),
    new Set(["Cy Orchard A (porter)", "cy ORCHARD B (table)"]),
  );
  assert.deepEqual(
    othersHere(listed, "p2").map(({ name }) => name),
    ["Ana Thistle"],
  );
});

test("after the closing a manager allows, or where none is there anybody else, and nobody their own", () => {
  const person = (person_id, name, roles, left = false) => ({ person_id, name, roles, left });
  const names = (people, person_id) =>
    mayAllow(day(Object.fromEntries(people.map((one) => [`people/${one.person_id}`, one]))), person_id).map(
      ({ name }) => name,
    );
  const table = person("h", "Hester", ["valuer"]);
  const packer = person("o", "Otis", ["packer"]);
  const lead = person("w", "Winifred", ["day lead", "safety lead"]);
  assert.deepEqual(names([table, packer, lead], "h"), ["Winifred"]);
  assert.deepEqual(names([table, packer, person("m", "Mo", ["Manager"])], "h"), ["Mo"]);
  assert.deepEqual(names([table, packer, { ...lead, left: true }], "o"), ["Hester"]);
  assert.deepEqual(names([table, packer, lead], "w"), ["Hester", "Otis"], "not what the lead does alone");
  assert.deepEqual(
    names([packer, person("o2", "otis", ["packer"])], "o"),
    [],
    "nor the same one, listed twice",
  );
});

test("tables of one name on two days say of which day each is", () => {
  const other = {
    ...day(),
    held_on: "2026-03-15",
    tables: [
      { table_id: "8", name: "Table 1" },
      { table_id: "2", name: "Table 2" },
    ],
  };
  assert.deepEqual(
    [...tablesOfDays([day(), other])],
    [
      ["1", "Table 1, 14 March 2026"],
      ["2", "Table 2"],
      ["8", "Table 1, 15 March 2026"],
    ],
  );
});
