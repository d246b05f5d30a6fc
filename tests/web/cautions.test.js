/**
 * The cautions on the device: what people type finds the right row, and most urgent first.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { findCautions, unknownCaution, urgentCautions } from "../../web/job/caution_search.ts";
import { book } from "./plan_book.js";

const { words, later, unseen, first } = JSON.parse(
  readFileSync(new URL("../../fixtures/caution-words.json", import.meta.url), "utf-8"),
);
const pack = book.cautions;
const found = (typed) => findCautions(pack, typed).rows.map(({ hazard }) => hazard);

for (const [told, list, least] of [
  ["written before the search was", words, 140],
  ["written later, in a hurry", later, 250],
  ["written before it was changed", unseen, 40],
])
  test(`at least 95 in 100 of what people type find the right row first or second: ${told}`, () => {
    assert.ok(list.length >= least);
    const missed = list
      .filter(({ typed, hazard }) => !found(typed).slice(0, 2).includes(hazard))
      .map(({ typed, hazard }) => `${typed}: ${hazard}, and found ${found(typed).slice(0, 3)}`);
    assert.ok(
      missed.length <= list.length * 0.05,
      `${missed.length} of ${list.length} missed:\n${missed.join("\n")}`,
    );
  });

test("a word in another form is the word: fainting is fainted, masked a mask, detectorist a detector's", () => {
  assert.equal(found("fainting")[0], "H69");
  assert.equal(found("masked")[0], "H11");
  assert.ok(found("detectorist").slice(0, 2).includes("H09"));
});

test("one letter or many, singular or plural, apart or together: the same row", () => {
  for (const typed of ["gun", "guns", "GUNS", "gu", " gun. "]) assert.equal(found(typed)[0], "H01", typed);
  for (const typed of ["mothball", "moth balls", "moth-balls", "mothbals"])
    assert.equal(found(typed)[0], "H15", typed);
  assert.equal(found("fire works")[0], "H03", "written as one in the row");
  assert.equal(found("gasmask")[0], "H11", "written as two in the row");
  for (const typed of ["ivory", "ivroy", "ivori"]) assert.equal(found(typed)[0], "H05", typed);
});

test("of rows that fit alike the gravest stands first", () => {
  const row = (hazard, level) => ({
    ...pack.cautions[0],
    hazard,
    level,
    name: "Gadget",
    synonyms: ["gadget"],
  });
  const three = { ...pack, cautions: [row("H71", "note"), row("H72", "amber"), row("H73", "red")] };
  assert.deepEqual(
    findCautions(three, "gadget").rows.map(({ hazard }) => hazard),
    ["H73", "H72", "H71"],
  );
});

test("what has to be met first is met first, before any other that has the word", () => {
  for (const { typed, hazard } of first) assert.equal(found(typed)[0], hazard, typed);
});

test("of rows that are called alike the red one stands first, however much more another says of it", () => {
  const row = (hazard, level, synonyms) => ({ ...pack.cautions[0], hazard, level, name: "Row", synonyms });
  const two = {
    ...pack,
    urgent: [],
    cautions: [
      row("H71", "amber", ["gadget", "gadget case", "gadget box"]),
      row("H72", "red", ["gadget", "other"]),
    ],
  };
  assert.equal(findCautions(two, "I found a gadget in the bag").rows[0].hazard, "H72");
});

test("what was meant stands before what is only spelt alike, however grave that is", () => {
  const row = (hazard, level, synonyms) => ({ ...pack.cautions[0], hazard, level, name: "Row", synonyms });
  const two = {
    ...pack,
    urgent: ["H72"],
    cautions: [row("H71", "note", ["gadgetry"]), row("H72", "red", ["wobbld", "wobbl", "wobbelt"])],
  };
  assert.deepEqual(
    findCautions(two, "gadget wobbolz").rows.map(({ hazard }) => hazard),
    ["H71", "H72"],
  );
});

test("a likeness of letters alone is no answer: then nobody is sure, and the row for the unknown comes first", () => {
  for (const typed of ["carrots", "teapot", "mug", "boat", "sad", "zip", "qqqzzz"])
    assert.equal(findCautions(pack, typed).sure, false, typed);
  for (const typed of ["granades", "tickin", "explossive", "ivroy", "gnu", "bullets", "fainting"])
    assert.equal(findCautions(pack, typed).sure, true, typed);
});

test("a word that stands in the rules of a row alone is found, and nobody is sure of it", () => {
  assert.ok(found("archive").includes("H16"));
  assert.equal(findCautions(pack, "archive").sure, false);
});

test("what is pasted by mistake is read no further than anybody types", () => {
  const many = `grenade ${"wobbly ".repeat(40)}`;
  assert.deepEqual(found(`${many}ivory`), found(many));
});

test("whatever a row says is found, not its synonyms alone", () => {
  assert.ok(found("Ionising").includes("H10"), "extent");
  assert.ok(found("electrician").includes("H20"), "who decides");
  assert.ok(found("sharps").includes("H46"), "what staff may");
  assert.ok(found("tongs").includes("H46"), "what staff may");
});

test("nothing typed or nothing known finds nothing, and the row for that is red", () => {
  for (const typed of ["", "   ", "the", "zzzqqq", "?!"]) assert.deepEqual(found(typed), [], typed);
  assert.deepEqual([unknownCaution(pack)?.hazard, unknownCaution(pack)?.level], ["H90", "red"]);
});

test("the most urgent are eight rows, each red, each with a name for a button", () => {
  const rows = urgentCautions(pack);
  assert.equal(rows.length, 8);
  for (const row of rows) assert.ok(row.level === "red" && row.name.length <= 32, row.name);
});
