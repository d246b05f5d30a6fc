/** What a class expects to be stated of an examination stands in the plan's order. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { statementSentences } from "../../web/job/statements.ts";
import { record } from "./made.js";
import { book } from "./plan_book.js";

test("statements come in the order of their plan, whichever was made first", () => {
  const plan = { tests: [], negatives: ["c", "a", "b"].map((negative) => ({ negative, tests: [] })) };
  const stated = (order) => {
    const made = Object.fromEntries(order.map((id) => [`statements/${id}`, { words: `it is ${id}` }]));
    return statementSentences({ plan, book, record: record("item", "i", made) }).flatMap(({ from }) => from);
  };
  const inOrder = ["statements/c", "statements/a", "statements/b"];
  for (const order of ["abc", "bca", "cab", "cba"]) assert.deepEqual(stated([...order]), inOrder);
});
