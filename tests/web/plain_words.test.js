/** Nobody reads an id, a code or a name of the program: every operation, field and value of the cases, in words. */
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { KINDS } from "../../web/job/kinds.ts";
import { operationWords } from "../../web/job/operation_words.ts";
import { fieldWords, valueWords } from "../../web/job/value_words.ts";
import { countWords, pluralOf } from "../../web/job/words.ts";

const folder = new URL("../../fixtures/operations/", import.meta.url);
const cases = readdirSync(folder).map((file) => JSON.parse(readFileSync(new URL(file, folder), "utf-8")));
const operations = cases.flatMap(({ before, given, operation }) => [...before, ...given, operation]);
const fields = cases.flatMap(({ expected }) => Object.entries(expected?.values ?? {}));

/** An id, a digest, a name with underscores, a hazard's number, an object as the program has it. */
const RAW = /[0-9a-f]{8}-[0-9a-f]{4}|[0-9a-f]{16}|[a-z]_[a-z]|\bH\d\d\b|[{}]|undefined|null|\[object/;
/** What the job's lists hold with a hyphen, and nobody writes so. Source: the office's models. */
const HYPHENED = "at-table not-examined works-in-part no-response not-done picked-up taken-back goes-on";
const CODES = new RegExp(
  `\\b(${HYPHENED.replaceAll(" ", "|")}|hall-light|fallen-off|soft-toy|as-recorded)\\b`,
);

test("every kind of operation is told in words, whatever was said with it", () => {
  const told = new Set();
  for (const op of operations) {
    const words = operationWords(op);
    assert.doesNotMatch(words, RAW, op.kind);
    assert.doesNotMatch(words, CODES, op.kind);
    told.add(op.kind);
  }
  // The office alone makes an erasure.
  assert.deepEqual(
    Object.keys(KINDS).filter((kind) => !told.has(kind)),
    ["erase_consignor"],
  );
});

test("what was said and what was taken back are told apart", () => {
  const said = (withdrawn) =>
    operationWords({ kind: "record_statement", item_id: "i", words: "It squeaks.", withdrawn });
  assert.deepEqual([said(false), said(true)], ["stated: It squeaks.", "took back: It squeaks."]);
});

test("whether something was found is told of a zone that was looked at", () => {
  const looked = { kind: "examine_zone", item_id: "i", zone: "rim", reason: null, light: null, count: null };
  const said = ["clear", "finding"].map((state) => operationWords({ ...looked, state }));
  assert.deepEqual(said, ["looked at rim: nothing found", "looked at rim: something found"]);
});

test("a Stop is told with its place and its sign, as far as they were given", () => {
  const said = (place, sign) => operationWords({ kind: "record_incident", place, sign });
  assert.equal(said("table 2", "smoke"), "pressed Stop at table 2: smoke");
  assert.deepEqual(
    ["smoke", ""].map((sign) => said("", sign)),
    ["pressed Stop: smoke", "pressed Stop: nothing written"],
  );
});

test("a receipt is told by how many things were left, or taken back", () => {
  const said = (what) => operationWords({ kind: "sign_receipt", number: "Q01/A1", what, lines: [{}, {}] });
  assert.match(said("left"), /\b2 left\b/);
  assert.match(said("returned"), /\b2 taken back\b/);
});

test("every field and its value are told in words", () => {
  for (const [name, value] of fields) {
    assert.doesNotMatch(fieldWords(name), RAW, name);
    assert.doesNotMatch(valueWords(value, name), RAW, name);
    assert.doesNotMatch(valueWords(value, name), CODES, name);
  }
});

test("an id is nobody's word, whatever field it stands in", () => {
  assert.equal(valueWords("019cebae-65a8-716b-aab7-7385aedd7d65"), "an entry of the records");
  assert.equal(valueWords("f3332a0c1b2d4e5f"), "an entry of the records");
  assert.equal(valueWords("f3332a0c1b2d4e5f", "plan_version"), "the plan as it stood then");
  assert.equal(valueWords({ unheard_of: "1" }), "more than a line can say");
  const later = { kind: "of_a_later_version" };
  assert.doesNotMatch(operationWords(later), RAW);
});

test("facts of a list have the list's words", () => {
  assert.equal(valueWords("at-table", "stage"), "at the table");
  assert.equal(valueWords("attributed-to", "maker_certainty"), "attributed to");
  assert.equal(valueWords("soft-toy", "class_id"), "soft toy");
  assert.equal(fieldWords("views/cover-apart"), "the view cover apart");
  const skipped = { reason: "owner-declined", note: "at her wish" };
  assert.equal(valueWords(skipped, "views/cover-apart"), "not taken, owner declined, at her wish");
  assert.equal(valueWords({ reason: null, note: "" }, "views/cover-apart"), "to be taken");
  assert.equal(valueWords("well-known", "note"), "well-known", "a person's own words stay as they are");
});

test("one of a thing is one, none and two are several", () => {
  assert.deepEqual(
    [0, 1, 2].map((count) => countWords(count, "visit")),
    ["0 visits", "1 visit", "2 visits"],
  );
  assert.deepEqual(
    [1, 2].map((count) => countWords(count, "person")),
    ["1 person", "2 people"],
  );
  assert.equal(pluralOf(1, "entry"), "entry");
});
