/** Of a pair or a list of unlike pieces of which some went home: what is told is of what is here. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { written } from "./any_words.js";
import { record, set, tag } from "./made.js";
import { book } from "./plan_book.js";

const at = (minute) => `2026-05-02T10:0${minute}:00Z`;
const line = (words, count = 1) => ({ words, count, withdrawn: false });

/** The texts of a thing, of which each field was set at a minute. */
function textsOf(class_id, short, minutes = {}) {
  const plan = book.plans[class_id];
  const item = record("item", "i", {});
  for (const [name, value] of Object.entries(written(plan, short)))
    item.fields[name] = set(value, at(minutes[name] ?? 1));
  const answers = fiveAnswers(plan, book, item).map(({ answer }) => asText(answer));
  return {
    heading: lotHeading(book, item).words,
    lot: asText(lotDescription(plan, book, item)),
    condition: asText(conditionParagraph(plan, book, item)),
    answers,
    all: [
      asText(lotDescription(plan, book, item)),
      asText(conditionParagraph(plan, book, item)),
      ...answers,
    ].join("\n"),
  };
}

const box = (mark, more = {}) => ({
  facts: {
    ...{ short_description: "box of nine pieces of silver", pieces: 9, "listed/0": line("a mustard pot") },
    ...{
      "listed/1": line("sauce ladles", 2),
      "listed/2": line("napkin rings", 5),
      "listed/3": line("a toast rack"),
    },
    "tags/00002Y": tag("00002Y"),
    "tags/000032": tag("000032", { piece: 2, of: 2, mark, gone: "taken-back" }),
    "measures/weight": { value: 412, unit: "g", typed: "412", basis: "gross" },
    ...more,
  },
  findings: [
    { zone: "plating", term: "plating-loss", severity: 3, piece_count: 1, piece_words: "a toast rack" },
    { zone: "liner", term: "missing-part", severity: 2, piece_count: 1, piece_words: "a mustard pot" },
  ],
});

test("what went of a list is named, and neither listed, faulted nor sold by weight", () => {
  const { lot, condition, answers, all } = textsOf("silver-plate", box("a toast rack"), { "tags/000032": 5 });
  assert.match(lot, /Eight of the nine are here; the toast rack went back to its owner\./);
  assert.match(lot, /The eight pieces: a mustard pot, two sauce ladles and five napkin rings\./);
  assert.match(lot, /Weight 412 g [^.]*\.2 oz t\) gross; taken when all nine were here/);
  assert.doesNotMatch(all, /plating of|a toast rack/);
  assert.match(condition, /liner/);
  assert.equal(answers.filter((words) => words.includes("went back")).length, 5, "each is copied by itself");
});

test("what was weighed after a piece went is the weight of what is here", () => {
  const { lot } = textsOf("silver-plate", box("a toast rack"), { "tags/000032": 5, "measures/weight": 7 });
  assert.match(lot, /Weight 412 g/);
  assert.doesNotMatch(lot, /taken when/);
});

test("of two of a line one went, and what is in no line is one more", () => {
  const ladle = textsOf("silver-plate", box("sauce ladles")).lot;
  assert.match(ladle, /; one of the two sauce ladles went back to its owner\. .*: a mustard pot, one sauce/);
  const other = textsOf("silver-plate", box("")).lot;
  assert.match(other, /Eight of the nine are here; one went back to its owner\./);
});

const pair = (findings, more = {}) => ({
  facts: {
    ...{
      short_description: "pair of vases",
      pieces: 2,
      "tags/00002Y": tag("00002Y", { piece: 1, of: 2, ...more }),
    },
    "tags/000032": tag("000032", { piece: 2, of: 2, gone: "taken-back" }),
    "measures/height": { value: 312, unit: "mm", typed: "312" },
  },
  not_there: ["cover", "stand"],
  findings,
});
const chip = { zone: "rim", term: "chip", severity: 2, piece: "2" };
const crack = { zone: "body", term: "crack", severity: 3, piece: "1" };

test("one of a pair is one thing, and its rim was looked at though the fault was on the other", () => {
  const { heading, lot, all } = textsOf("ceramics", pair([chip, crack]), { "tags/000032": 5 });
  assert.equal(heading, "One of a pair of vases");
  assert.match(lot, /One of the two is here; the second went back to its owner\./);
  assert.match(lot, /Height 31\.2 cm .*; taken when both were here/);
  assert.match(all, /The first has a crack in the body\./);
  assert.match(all, /It has no cover or stand\./);
  assert.doesNotMatch(all, /Nothing is recorded of the rim|of the second|They |chip\b|piece 2/);
  assert.match(all, /fault noted on [^.]*the rim/);
});

test("a place whose fault was taken back is not clear because one of the pair went", () => {
  const { all } = textsOf("ceramics", pair([{ ...chip, piece: "1", withdrawn: true }]), { "tags/000032": 5 });
  assert.doesNotMatch(all, /fault noted on [^.]*the rim/);
});

test("only of two that are called a pair, and are two, one is one of a pair", () => {
  for (const [name, pieces] of [
    ["pair of vases", 3],
    ["two vases", 2],
  ]) {
    const item = pair([]);
    Object.assign(item.facts, { short_description: name, pieces });
    const { heading } = textsOf("ceramics", item, { "tags/000032": 5 });
    assert.doesNotMatch(heading, /one of a/i, name);
  }
});

test("the two of a pair are told apart by side where their numbers do", () => {
  const { lot } = textsOf("ceramics", pair([], { mark: "the left one" }));
  assert.match(lot, /the right one went back to its owner/);
});
