/** A thing of unlike pieces: its list in a line, on a receipt and in a lot's text. Source: common practice. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { lineAsTyped, lineFrom, sumWords } from "../../web/job/listed_pieces.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { isOnPieceAway } from "../../web/job/piece_away.ts";
import { lineOfReturned, piecesWords } from "../../web/job/receipt.ts";
import { record, tag } from "./made.js";
import { book } from "./plan_book.js";

const { cases, faults } = JSON.parse(
  readFileSync(new URL("../../fixtures/pieces-listed.json", import.meta.url), "utf8"),
);
const line = (words, count = 1, withdrawn = false) => ({ words, count, withdrawn });
const linesOf = (lines) =>
  Object.fromEntries(lines.map(([words, count], at) => [`listed/${at}`, line(words, count)]));
const tools = (pieces, lines, more = {}) =>
  record("item", "i", {
    short_description: "box of fourteen tools",
    ...(pieces ? { pieces } : {}),
    ...linesOf(lines),
    ...more,
  });

function ofCase({ pieces, lines, away = [], name = "tools" }) {
  const went = away.map((mark, at) => [
    `tags/00003${at + 2}`,
    tag(`00003${at + 2}`, { piece: at + 2, of: at + 2, mark, gone: "taken-back" }),
  ]);
  return tools(pieces, lines, {
    short_description: name,
    "tags/00002Y": tag("00002Y"),
    "listed/9": line("a saw", 1, true),
    ...Object.fromEntries(went),
  });
}

test("a word of how a material is, is no material more", () => {
  const made = (materials) =>
    lotDescription(null, book, record("item", "i", { short_description: "beaker", materials }))[0].words;
  assert.equal(made("white metal, marked"), "A beaker; white metal, marked.");
  assert.equal(made("silver, ebony"), "A beaker; materials as seen: silver and ebony.");
});

test("a receipt lists the pieces that are here, in whole lines", () => {
  for (const each of cases) assert.equal(piecesWords(ofCase(each)), each.words);
  const went = ofCase({ pieces: 4, lines: [["a blowlamp", 1]], away: ["a blowlamp"] });
  assert.equal(lineOfReturned(went).words, "tools; 1 of 4 pieces: a blowlamp");
});

test("a fault goes with the piece that its words tell of, as the office has it", () => {
  for (const each of faults)
    assert.equal(isOnPieceAway(ofCase(each), each.on), each.is_away, JSON.stringify(each));
});

test("a lot lists the pieces that are here, and names what went back", () => {
  const went = ofCase({
    pieces: 6,
    lines: [
      ["a cleaver", 1],
      ["chisels", 3],
    ],
    away: ["a cleaver"],
  });
  assert.deepEqual(
    lotDescription(null, book, went)
      .map(({ words }) => words)
      .slice(1),
    [
      "Five of the six are here; the cleaver went back to its owner.",
      "The five pieces: three chisels and two more.",
    ],
  );
});

test("what is typed in a line says how many there are, in figures or in a word", () => {
  assert.deepEqual(lineFrom("2 chisels "), { words: "chisels", count: 2 });
  assert.deepEqual(lineFrom("two chisels"), { words: "chisels", count: 2 });
  assert.deepEqual(lineFrom("3 x gouges"), { words: "gouges", count: 3 });
  assert.deepEqual(lineFrom("a plane"), { words: "a plane", count: 1 });
  assert.deepEqual(lineFrom("1930 calendar"), { words: "1930 calendar", count: 1 });
  assert.deepEqual(lineFrom("7"), { words: "7", count: 1 });
  assert.equal(lineAsTyped(line("chisels", 2)), "2 chisels");
});

test("the sum of the lines is held to the count", () => {
  assert.equal(sumWords(tools(14, [["chisels", 9]])).words, "9 of 14 listed, 5 to go.");
  assert.equal(sumWords(tools(14, [["chisels", 14]])).words, "All 14 are listed.");
  assert.deepEqual(sumWords(tools(14, [["chisels", 15]])), {
    words: "15 are listed, and 14 pieces counted.",
    isOver: true,
  });
});

test("a lot says what its pieces are, how many are not named, and where two numbers differ", () => {
  const said = (pieces, lines) => lotDescription(null, book, tools(pieces, lines)).map(({ words }) => words);
  const some = [
    ["chisels", 2],
    ["a plane", 1],
  ];
  assert.deepEqual(said(14, some), [
    "A box of fourteen tools.",
    "The fourteen pieces: two chisels, a plane and eleven more.",
  ]);
  assert.deepEqual(said(3, some).slice(1), ["The three pieces: two chisels and a plane."]);
  assert.deepEqual(said(2, some).slice(1), [
    "Its pieces: two chisels and a plane; counted as two, listed as three.",
  ]);
  assert.deepEqual(
    said(3, [
      ["chisels, one rusty", 2],
      ["a plane", 1],
    ]).slice(1),
    ["The three pieces: two chisels, one rusty; a plane."],
  );
  assert.deepEqual(said(14, []).slice(1), []);
});
