/** In which order findings are told: it is the record's, whoever came first, and what holds a thing together leads. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { findingSentences } from "../../web/job/finding_sentences.ts";
import { clear, finding, recordOf } from "./any_words.js";
import { chance } from "./chance.js";
import { book } from "./plan_book.js";

/** From what may cost the thing to what a cloth takes off. */
const FAMILIES = [
  ...["structural", "loss", "previous intervention", "mechanical and function", "biological", "chemical"],
  ...["surface", "colour and light", "dirt and odour"],
];
const { terms } = book.vocabulary;
const familyOf = (name) => terms.find(({ term }) => term === name).family;
const plan = book.plans.ceramics;

/** The findings in the order in which they are told, whatever order they were recorded in. */
function told(findings) {
  const fields = Object.fromEntries(findings.map((one, index) => [`findings/${index}`, one]));
  const record = recordOf({ "zones/rim": clear(), "zones/body": clear(), ...fields });
  return findingSentences({ plan, book, record }).flatMap(({ about }) => about);
}

test("the vocabulary has no family that has no place in the order", () => {
  assert.deepEqual(new Set(terms.map(({ family }) => family)), new Set(FAMILIES));
});

test("on one zone families follow each other, and what is serious comes before all, the gravest first", () => {
  for (let seed = 1; seed <= 30; seed++) {
    const below = chance(seed);
    const anyOf = (all) => all[below(all.length)];
    const any = FAMILIES.map((family) => anyOf(terms.filter((term) => term.family === family)).term);
    const findings = any.map((term) => finding({ zone: "rim", term, severity: 1 + below(4) }));
    const serious = (one) => (one.severity >= 3 ? one.severity : 0);
    const place = (one) => FAMILIES.indexOf(familyOf(one.term));
    const expected = [...findings].sort((a, b) => serious(b) - serious(a) || place(a) - place(b));
    const termsOf = (all) => all.map(({ term }) => term);
    const recorded = [...findings];
    for (let at = recorded.length - 1; at > 0; at--) {
      const other = below(at + 1);
      [recorded[at], recorded[other]] = [recorded[other], recorded[at]];
    }
    assert.deepEqual(termsOf(told(recorded)), termsOf(expected), `seed ${seed}`);
  }
});
