/** Every owner at a table is shown at one, also at one that was taken away meanwhile. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { seatsOf } from "../../web/job/seats.ts";

const set = (value) => ({ value });
const visit = (ticket, table_id) => ({
  record_id: ticket,
  fields: { ticket: set(ticket), ...(table_id && { table_id: set(table_id) }) },
});
const day = (fields = {}) => ({
  tables: [
    { table_id: "1", name: "Table 1" },
    { table_id: "2", name: "Table 2" },
    { table_id: "3", name: "Table 3" },
  ],
  fields,
});
const gone = {
  "tables/2": set({ name: "Table 2", gone: true }),
  "tables/3": set({ name: "Corner", gone: true }),
};
const shown = (seats) => seats.map(({ name, visits }) => [name, ...visits.map(({ record_id }) => record_id)]);

test("a table that was taken away stays for as long as an owner is at it", () => {
  const seats = seatsOf(day(gone), [visit("Q1", "2"), visit("Q2", "1")]);
  assert.deepEqual(shown(seats), [
    ["Table 1", "Q2"],
    ["Table 2", "Q1"],
  ]);
  assert.deepEqual(
    seats.map(({ gone }) => gone),
    [false, true],
  );
  assert.deepEqual(shown(seatsOf(day(gone), [])), [["Table 1"]]);
});

test("an owner at no table, or at one that is not known here, stands at the end", () => {
  assert.deepEqual(shown(seatsOf(day(), [visit("Q1"), visit("Q2", "3"), visit("Q3", "elsewhere")])), [
    ["Table 1"],
    ["Table 2"],
    ["Table 3", "Q2"],
    ["No table", "Q1", "Q3"],
  ]);
});

test("two tables of one name are two seats, told apart", () => {
  const twins = { "tables/a": set({ name: "Table 3", gone: false }) };
  assert.deepEqual(shown(seatsOf(day(twins), [visit("Q1", "a")])), [
    ["Table 1"],
    ["Table 2"],
    ["Table 3 A"],
    ["Table 3 B", "Q1"],
  ]);
});

test("to be at no table is nothing that was taken away", () => {
  const seats = seatsOf(day(gone), [visit("Q1"), visit("Q2", "2")]);
  assert.deepEqual(
    seats.map(({ name, gone }) => [name, gone]),
    [
      ["Table 1", false],
      ["Table 2", true],
      ["No table", false],
    ],
  );
});
