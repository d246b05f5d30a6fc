/** Of pairs, sets and groups: on how many of them something is, and which, so far as anybody noted it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { pairToldBy, pieceToldBy, whichPiece } from "../../web/job/which_piece.ts";
import { finding } from "./any_words.js";
import { lot, one, paragraph } from "./as_text.js";
import { record, tag } from "./made.js";

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
  assert.match(medals(papers), /Not noted: which of the five the altered namings are on\./);
  assert.match(medals(), /Not noted: which of the five the altered namings are on\./);
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

test("of what each of several has, so many faults are on one or more, and the fault left over is named", () => {
  const medals = several("medal-coin", "three medals", 3, "obverse", "contact-marks", { extent_count: 2 });
  assert.match(
    medals,
    /\. Two contact marks \(small knocks from other metal\) on one or more obverses\. Not noted: which of the three/,
  );
  const first = several("medal-coin", "three medals", 3, "obverse", "contact-marks", {
    extent_count: 2,
    piece: "1",
  });
  assert.match(
    first,
    /\. The first of the three has two contact marks \(small knocks from other metal\) on the obverse\./,
  );
  const volumes = paragraph("book-map", {
    facts: { short_description: "set of eleven volumes", pieces: 11 },
    findings: [
      { zone: "joints/upper", term: "tape-repair", severity: 1, piece: "4" },
      { zone: "sewing", term: "loose-part", severity: 1, piece_count: 2 },
    ],
  });
  assert.match(volumes, /Not noted: which of the eleven the loose sewing is on\./);
  const train = several("tinplate-diecast", "clockwork train, nine pieces", 9, "roof-top", "replaced-part");
  assert.match(train, /Not noted: which of the nine the replaced roofs are on\./);
});

test("an atlas has many maps: a fault is on one or more, and nobody noted which or how many there are", () => {
  const atlas = (...found) =>
    paragraph("book-map", { facts: { short_description: "atlas" }, ...one(...found) });
  const open = /Neither the number of maps nor which of them the fault is on was noted\./;
  const trimmed = atlas("map-sheet", "trimmed", { extent_mm: 1 });
  assert.match(trimmed, /One or more map sheets are trimmed by 1 mm\./);
  assert.match(trimmed, open);
  assert.match(atlas("map-folds", "laid-down"), /One or more map folds are laid down\./);
  assert.doesNotMatch(atlas("spine", "tear", { extent_mm: 4 }), open);
  assert.match(
    paragraph("book-map", one("map-sheet", "trimmed", { extent_mm: 1 })),
    /The map sheet is trimmed/,
  );
});

test("of a pair the marks are on the bodies, and what nobody saw is what each of them has", () => {
  const altered = several("silver-plate", "pair of candlesticks", 2, "marks-body", "altered-inscription");
  assert.match(altered, /The marks on one or both bodies are altered\./);
  const single = paragraph("silver-plate", one("marks-body", "altered-inscription"));
  assert.match(single, /marks on the body are altered\./);
  const covered = (name, pieces) =>
    paragraph("glass", {
      facts: { short_description: name, pieces },
      not_examined: { "stopper-peg": "covered" },
    });
  assert.match(covered("pair of decanters", 2), /Not examined: the stopper pegs; covered/);
  assert.match(covered("decanter", 1), /Not examined: the stopper peg; covered/);
});

test("the two of a pair are told apart in one way, and how is said once for each", () => {
  const pair = (...found) =>
    record("item", "i", {
      pieces: 2,
      ...Object.fromEntries(found.map((one, at) => [`findings/${at}`, finding(one)])),
    });
  assert.equal(pairToldBy(pair({})), null);
  assert.equal(pairToldBy(pair({ piece: "left" })), "side");
  assert.equal(pairToldBy(pair({ piece: "2" })), "order");
  assert.equal(pairToldBy(pair({ piece: "2", withdrawn: true })), null);
  const marked = { "tags/00002Y": tag("00002Y", { of: 2, mark: "the right one" }) };
  assert.equal(pairToldBy(record("item", "i", { pieces: 2, ...marked })), "side");
  const told = pair({ piece: "2", piece_words: "with the bent foot." }, { piece: "1" });
  assert.deepEqual([pieceToldBy(told, "2"), pieceToldBy(told, "1")], ["with the bent foot", ""]);
  assert.equal(
    whichPiece(told, finding({ piece: "2", piece_words: "with the bent foot." })),
    "the second (with the bent foot)",
  );
  assert.equal(whichPiece(told, finding({ piece: "1" })), "the first");
  assert.match(
    several("glass", "pair of vases", 2, "rim", "chip", { piece: "left", piece_words: "with the bent foot" }),
    /The left one \(with the bent foot\) has a chip/,
  );
});
