/** A box of unlike pieces with a list: each fault is told of its piece as the list calls it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, paragraph } from "./as_text.js";

const line = (words, count = 1) => ({ words, count, withdrawn: false });
const box = (name, pieces, lines, short) => ({
  ...short,
  facts: {
    ...{ short_description: name, pieces, ...short.facts },
    ...Object.fromEntries(lines.map((words, at) => [`listed/${at}`, line(...words)])),
  },
});
const on = (zone, term, piece_words, more = {}) => ({
  ...{ zone, term, severity: 2, piece_count: 1, piece_words, ...more },
});

const silver = box(
  "box of nine pieces of silver",
  9,
  [["a mustard pot"], ["sauce ladles", 2], ["sugar tongs"], ["napkin rings", 3], ["a toast rack"]],
  {
    findings: [
      on("liner", "missing-part", "a mustard pot"),
      on("handles", "solder-repair", "sugar tongs"),
      on("body", "dent", "napkin rings", { extent_count: 3, piece_count: 2 }),
      on("hinge", "loose-part", "a mustard pot"),
      on("engraving", "altered-inscription", "sauce ladles", { piece_count: 2 }),
      on("plating", "plating-loss", "a toast rack"),
    ],
    tests: { hinge: ["works", "", ""] },
  },
);

test("a fault is told of its piece as the list calls it, with article and number", () => {
  const text = paragraph("silver-plate", silver);
  for (const says of [
    "The liner of the mustard pot is missing.",
    "The sugar tongs have a solder repair to a handle.",
    "Two of the three napkin rings have dents in the body, three in all.",
    "The hinge of the mustard pot is loose.",
    "The inscription of both sauce ladles is altered.",
    "The toast rack has loss of plating.",
    "The hinge opened when tried once; on which of the nine was not noted.",
  ])
    assert.ok(text.includes(says), `${says} ${text}`);
});

test("of unlike pieces no answer speaks of the hinges of the others", () => {
  for (const begins of ["Is there a repair", "Were arms", "Is it silver"])
    assert.doesNotMatch(answer("silver-plate", begins, silver), /of the others/);
});

test("what is missing and in no line of the list is none of the pieces that are here", () => {
  const kitchen = box("box of kitchen things", 8, [["a copper jelly mould"], ["pastry cutters", 4]], {
    findings: [on("outline", "missing-part", "the lid of the mould")],
  });
  assert.match(paragraph("free", kitchen), /\. The lid of the mould is missing\./);
});

test("a line with a comma, what cannot be counted, and parts of as many as were counted", () => {
  const toys = (...findings) =>
    box("box of tinplate toys", 5, [["a racing car"], ["carriages, one without wheels", 2]], { findings });
  const wheels = on("wheels", "missing-part", "carriages, one without wheels", { extent_count: 4 });
  assert.match(
    paragraph("tinplate-diecast", toys(wheels)),
    /Four wheels of one of the two carriages \(one without wheels\) are missing\./,
  );
  const paint = { zone: "paint", term: "paint-loss", severity: 2, extent_percent: 30, piece_count: 3 };
  const text = paragraph("tinplate-diecast", toys(paint));
  assert.match(text, /Not noted: which of the five the loss of paint is on\./);
  assert.doesNotMatch(answer("tinplate-diecast", "Is the paint", toys(paint)), /the body\b/);
});

test("a sign that begins with its piece ends with it", () => {
  const facts = {
    "cautions/1": {
      hazard: "H05",
      level: "amber",
      sign: "a toast rack: pale handle",
      zone: null,
      called: "W",
      place: "b",
    },
  };
  assert.match(
    paragraph("silver-plate", box("box of nine pieces", 9, [["a toast rack"]], { facts })),
    /noted: pale handle on the toast rack\./,
  );
});

test("what rang dully is one or both of a pair", () => {
  const pair = { short_description: "pair of vases", pieces: 2 };
  const tests = { ring: ["works-in-part", "", "one dull"] };
  assert.match(
    paragraph("ceramics", { facts: pair, tests }),
    /One or both rang dully when tapped once: one dull\./,
  );
});
