/** What is told of one piece of several, and what the desk made of it, once the record says it of another. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { deskAnswers } from "../../web/job/desk_answers.ts";
import { deskTexts, keysOfLine, versionOf } from "../../web/job/desk_words.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const plan = book.plans.ceramics;
const textOf = (values) => deskTexts(plan, book, recordOf(values)).find(({ name }) => name === "condition");

/** What is printed, and the answers, where the desk made something of the first finding and the record changed. */
function afterDesk(before, version, words, now) {
  const line = textOf(before).lines.find((one) => keysOfLine(one).includes("findings/0"));
  const said = versionOf("condition", line, version, words);
  const values = { ...now, [`sentences/condition/${line.sentence}`]: said };
  const answers = deskAnswers(plan, book, recordOf(values)).map(({ answer }) => asText(answer));
  return { words: textOf(values).words, answers: answers.join("\n") };
}

const several = (name, pieces, more, facts = {}) =>
  written(plan, {
    facts: { short_description: name, pieces, ...facts },
    findings: [{ zone: "rim", term: "chip", severity: 3, extent_mm: 5, note: "at the back", ...more }],
  });
const vases = (more) => several("pair of vases", 2, more);

test("what the desk wrote of one of a pair gives way where the record has it of the other, or of both", () => {
  const left = vases({ piece: "left" });
  const since = (more, version = "rewritten") => afterDesk(left, version, "OURS.", vases(more));
  for (const version of ["rewritten", "struck"]) {
    assert.match(since({ piece: "right" }, version).words, /The right one has a chip of 5 mm to the rim/);
    assert.match(since({ piece: "right" }, version).answers, /The right one has a chip of 5 mm to the rim/);
    assert.match(since({ piece_count: 2 }, version).words, /Both have a chip of 5 mm/);
    assert.match(since({ piece: null }, version).words, /A chip of 5 mm to the rim/);
  }
  for (const more of [{ extent_mm: 25 }, { note: "inside" }, {}]) {
    assert.match(since({ piece: "left", ...more }).words, /OURS\./);
    assert.doesNotMatch(since({ piece: "left", ...more }, "struck").words, /chip of/);
  }
});

test("which piece it is may be added to what the desk wrote, or be in the note of it all along", () => {
  for (const more of [{ piece: "right" }, { note: "the left one" }, {}])
    assert.match(afterDesk(vases({}), "rewritten", "OURS.", vases(more)).words, /OURS\./);
  const noted = vases({ note: "the left one, at the back" });
  assert.match(afterDesk(noted, "rewritten", "OURS.", noted).words, /OURS\./);
});

test("of a set another piece, another number of them and another line of its list are other pieces", () => {
  const lines = ["a mustard pot", "sugar tongs"].map((words, at) => [
    `listed/${at}`,
    { words, count: 1, withdrawn: false },
  ]);
  const six = (more) => several("six pieces", 6, more, Object.fromEntries(lines));
  const since = (before, now) => afterDesk(six(before), "rewritten", "OURS.", six(now)).words;
  assert.match(since({ piece: "2" }, { piece: "5" }), /Piece 5 of the six has a chip/);
  assert.match(since({ piece_count: 1 }, { piece_count: 4 }), /Four of the six have a chip/);
  const pot = { piece_count: 1, piece_words: "a mustard pot" };
  assert.match(since(pot, { ...pot, piece_words: "sugar tongs" }), /sugar tongs/);
  for (const more of [{ piece: "2" }, { piece_count: 4 }, pot])
    assert.match(since(more, { ...more, severity: 2 }), /OURS\./);
});

const pendants = {
  facts: { short_description: "pair of ear pendants", pieces: 2 },
  findings: [
    { zone: "side-stones", term: "stone-missing", severity: 3, extent_count: 1, piece: "left" },
    { zone: "ear-fittings/proper-left", term: "replaced-part", severity: 2 },
  ],
};

test("the side of an ear fitting says which of two it is of; a lost stone bears on replaced ones", () => {
  assert.match(paragraph("jewellery", pendants), /The proper left ear fitting is replaced\./);
  assert.doesNotMatch(paragraph("jewellery", pendants), /Not noted/);
  const repairs = answer("jewellery", "Are there repairs", pendants);
  assert.match(repairs, /The left one has one side stone missing\./);
  assert.doesNotMatch(repairs, /fault noted on [^.]*the side stones(?! of the right one)/);
});

test("gross or net says nothing of how many were weighed, and a height is that of one", () => {
  const weight = { value: 6.4, unit: "g", typed: "6.4", basis: "gross" };
  const height = { value: 312, unit: "mm", typed: "312" };
  const two = { short_description: "pair of things", pieces: 2 };
  assert.match(
    lot("jewellery", { ...two, "measures/weight": weight }),
    /Weight 6\.4 g gross; whether of one or of both was not noted\./,
  );
  const of = (pieces) => lot("ceramics", { short_description: "vases", pieces, "measures/height": height });
  assert.match(of(2), /Height 31\.2 cm [^;]*; whether the other is the same was not noted\./);
  assert.match(of(3), /; whether the others are the same was not noted\./);
  const box = { "listed/0": { words: "a mustard pot", count: 1, withdrawn: false }, pieces: 9 };
  assert.doesNotMatch(lot("silver-plate", { ...box, "measures/weight": weight }), /whether of one/);
});
