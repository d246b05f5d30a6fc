/** Papers that come with a thing, and what faults are called that have no noun of their own. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { WHOLE } from "../../web/job/families.ts";
import { nameOf } from "../../web/job/fault_names.ts";
import { papers } from "../../web/job/papers.ts";
import { finding } from "./any_words.js";
import { record } from "./made.js";
import { book } from "./plan_book.js";

test("papers that speak for the maker or for the date come with it", () => {
  const said = (values) => papers({ record: record("item", "i", values) }).map(({ from }) => from);
  const paper = ["provenance-paper"];
  assert.deepEqual(said({ maker_evidence: paper }), [["maker_evidence"]]);
  assert.deepEqual(said({ dates_evidence: paper }), [["dates_evidence"]]);
  assert.deepEqual(said({ dates_evidence: ["mark"] }), []);
});

test("what has no noun of its own is called by the zone that is so, and of the whole it is its state", () => {
  const { term, says } = book.vocabulary.terms.find(
    (one) => one.says && !one.noun && !one.plural && !one.sign && !one.sought,
  );
  assert.equal(nameOf(book, term, [finding({ zone: WHOLE, term, severity: 2 })]), `${says} state`);
});
