/**
 * The cautions on the device: what people type finds the right row, and most urgent first.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { findCautions, unknownCaution, urgentCautions } from "../../web/job/caution_search.ts";
import { book } from "./plan_book.js";

const { words, later } = JSON.parse(
  readFileSync(new URL("../../fixtures/caution-words.json", import.meta.url), "utf-8"),
);
const pack = book.cautions;
const found = (typed) => findCautions(pack, typed).map(({ hazard }) => hazard);

for (const [told, list, least] of [
  ["written before the search was", words, 140],
  ["written later, in a hurry", later, 250],
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

test("a word in another form is the word: fainting is fainted, detectorist a detector's", () => {
  assert.equal(found("fainting")[0], "H68");
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
  const row = (hazard, level) => ({ ...pack.cautions[0], hazard, level, name: "Thing", synonyms: ["thing"] });
  const three = { ...pack, cautions: [row("H71", "note"), row("H72", "amber"), row("H73", "red")] };
  assert.deepEqual(
    findCautions(three, "thing").map(({ hazard }) => hazard),
    ["H73", "H72", "H71"],
  );
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
