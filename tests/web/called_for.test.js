/** What the words of a name call for is offered, and what speaks against it holds it back. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { cautionsNamed, otherClassNamed } from "../../web/job/called_for.ts";
import { termsFound } from "../../web/job/terms_found.ts";
import { record } from "./made.js";
import { book } from "./plan_book.js";

test("a word that speaks for another class offers it, unless one speaks for the class that was chosen", () => {
  const other = (class_id, name) => otherClassNamed(book, class_id, name)?.class_id ?? "";
  assert.equal(other("painting", "framed watercolour on paper"), "work-on-paper");
  assert.equal(other("painting", "Watercolour, framed"), "work-on-paper");
  assert.equal(other("painting", "portrait in oil over an etching"), "");
  assert.equal(other("work-on-paper", "framed watercolour"), "");
  assert.equal(other("work-on-paper", "small oil of a cow"), "painting");
  assert.equal(other("", "framed watercolour"), "", "who chooses a class reads what stands on its key");
  assert.equal(otherClassNamed({ classes: { a: {}, b: {} } }, "a", "watercolour"), null, "a book of before");
});

test("a word offers its caution once, and not of a toy", () => {
  const rows = (name, values = {}) =>
    cautionsNamed(book.cautions, record("item", "i", values), name).map(({ row }) => row.name);
  assert.deepEqual(rows("stuffed pike's head"), ["Stuffed animals"]);
  assert.deepEqual(rows("Tin of bullets"), ["Ammunition"]);
  assert.deepEqual(rows("stuffed toy bear"), []);
  assert.deepEqual(rows("bulletin of a society"), []);
  const raised = {
    "cautions/1": { hazard: "H07", level: "amber", sign: "", zone: null, called: "", place: "" },
  };
  assert.deepEqual(rows("stuffed pike's head", raised), []);
  const old = { cautions: [{ ...book.cautions.cautions[0], named: undefined, not_named: undefined }] };
  assert.deepEqual(cautionsNamed(old, undefined, "revolver"), [], "a pack of before");
});

test("the trade's words for a blow on a rim and for dirt find their terms", () => {
  const zone = book.plans["medal-coin"].zones.find((one) => one.zone === "rim");
  const first = (words) => termsFound(book.vocabulary.terms, zone, words)[0]?.term;
  for (const words of ["edge knock", "edge bruise", "rim bruise"]) assert.equal(first(words), "dent", words);
  const found = termsFound(book.vocabulary.terms, { zone: "body", words: "body", usual: [] }, "dirt");
  assert.deepEqual(new Set(found.slice(0, 2).map(({ term }) => term)), new Set(["dust", "grime"]));
});
