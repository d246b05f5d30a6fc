/** Of pairs, sets and groups: on how many of them something is, and which, so far as anybody noted it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { finding } from "./any_words.js";
import { lot, one, paragraph } from "./as_text.js";

const several = (class_id, name, pieces, ...found) =>
  paragraph(class_id, { facts: { short_description: name, pieces }, ...one(...found) });

test("what nobody counted on several pieces is on one or more of what each has several of", () => {
  const brooches = (...found) => several("jewellery", "seventeen brooches", 17, ...found);
  assert.match(brooches("marks", "mark-illegible"), /\. One or more marks are not fully legible\./);
  assert.match(
    brooches("marks", "mark-illegible", { piece_count: 17 }),
    /\. The marks of all seventeen are not/,
  );
  const vehicles = (...found) => several("tinplate-diecast", "fourteen vehicles", 14, ...found);
  assert.match(
    vehicles("base", "mark-illegible"),
    /\. One or more marks on the bases are not fully legible\./,
  );
  assert.match(vehicles("axles", "stiff"), /\. One or more axles are stiff\./);
  assert.match(vehicles("axles", "stiff", { extent_count: 2 }), /\. Two axles are stiff\./);
  const train = several("tinplate-diecast", "clockwork train, nine pieces", 9, "roof-top", "replaced-part");
  assert.match(train, /\. One or more roofs are replaced\./);
  const single = paragraph("jewellery", one("marks", "mark-illegible"));
  assert.match(single, /\. The marks are not fully legible\./);
});

test("beside what is on none of the pieces, the fault of which nobody noted which it is on is named", () => {
  const medals = (...more) =>
    paragraph("medal-coin", {
      facts: { short_description: "five medals with papers", pieces: 5 },
      findings: [{ zone: "naming", term: "altered-inscription", severity: 3 }, ...more],
    });
  const papers = { zone: "documents", term: "missing-part", severity: 3, extent_count: 2 };
  assert.match(medals(papers), /Not noted: which of the five the altered naming is on\./);
  assert.match(medals(), /Not noted: which of the five the altered naming is on\./);
});

test("a description says what a set lacks in the words of its heading", () => {
  const set = (more) =>
    lot("book-map", {
      short_description: "set of twelve volumes",
      pieces: 11,
      "findings/0": finding({ zone: "set-count", term: "missing-part", severity: 3, ...more }),
    });
  assert.match(set({ extent_count: 1 }), /^A set of twelve volumes, lacking one\. Counted: eleven volumes\./);
  assert.match(set({ extent_count: 1, withdrawn: true }), /^A set of twelve volumes\./);
});
