/** What holds a condition's word down, and what may become of a thing, as whoever reads the entry reads it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { gradeOf, stabilityOf, stepOf } from "../../web/job/condition.ts";
import { notBetterWords, reckonedWords, riskWords } from "../../web/job/condition_words.ts";
import { keysOf } from "../../web/job/progress.ts";
import { book } from "./plan_book.js";

const plan = book.plans["soft-toy"];
const lists = { plan, book };
const set = (value) => ({ value });

/** A toy whose zones are all clear but for what was found and tried. */
function toy(findings, tests = {}) {
  const zones = plan.zones
    .flatMap(keysOf)
    .map((key) => [`zones/${key}`, set({ state: "clear", reason: null })]);
  const found = findings.map((finding, at) => [
    `findings/${at}`,
    set({ severity: 1, activity: "n", note: "", withdrawn: false, ...finding }),
  ]);
  const tried = Object.entries(tests).map(([name, result]) => [`tests/${name}`, set({ result })]);
  return { fields: Object.fromEntries([...zones, ...found, ...tried]) };
}

test("what holds the word down is a sentence that names the faults", () => {
  const worn = toy([
    { zone: "nose", term: "hole", extent_mm: 4, note: "by the seam" },
    { zone: "body", term: "odour-musty", severity: 2, activity: "w" },
  ]);
  const { word, because } = gradeOf(plan, worn);
  assert.equal(word, "very good");
  assert.equal(
    notBetterWords(lists, toy([]), because),
    "Not better, since it has a moderate fault (a musty odour from the body); " +
      "a main part is not whole (a slight hole in the nose).",
  );
  assert.equal(riskWords(lists, worn, stabilityOf(worn)), "May go on: a musty odour from the body.");
  assert.equal(notBetterWords(lists, toy([]), gradeOf(plan, toy([])).because), "");
  assert.equal(riskWords(lists, toy([]), stabilityOf(toy([]))), "");
});

test("of many faults three are named, and how many more there are", () => {
  const zones = plan.zones.filter(({ weight, members }) => weight !== "minor" && !members.length).slice(0, 4);
  const live = toy(zones.map(({ zone }) => ({ zone, term: "live-insects", activity: "Q" })));
  assert.match(
    riskWords(lists, live, stabilityOf(live)),
    /^Can spread to other things, or harm them: .*, .*, .* and 1 more\.$/,
  );
});

test("what was tried and did not work is named", () => {
  const { because } = gradeOf(
    plan,
    toy([], { "turn-joints": "works-in-part", "press-voice": "no-response" }),
  );
  const why = "it did not work, or not wholly, when it was tried";
  const tried = "the voice when pressed and the turning of the joints";
  assert.equal(notBetterWords(lists, toy([]), because), `Not better, since ${why} (${tried}).`);
});

test("what is on more pieces than are counted by now is told of none of them", () => {
  const risky = toy([{ zone: "body", term: "odour-musty", severity: 2, activity: "w", piece_count: 5 }]);
  risky.fields.pieces = set(2);
  assert.doesNotMatch(riskWords(lists, risky, stabilityOf(risky)), /five/);
  risky.fields.pieces = set(6);
  assert.match(riskWords(lists, risky, stabilityOf(risky)), /five/);
});

test("beside a word that a part nobody examined holds down, no fault is said to hold it", () => {
  const unseen = toy([{ zone: "nose", term: "hole", severity: 1 }]);
  unseen.fields["zones/cover"] = set({ state: "not-examined", reason: "covered" });
  const { index, computed, because } = gradeOf(plan, unseen);
  const words = `${reckonedWords(stepOf(index).word, computed)} ${notBetterWords(lists, unseen, because)}`;
  assert.match(
    words,
    /^All its faults taken together would make it “excellent”; it is held at “good”\. Not better, since /,
  );
  assert.doesNotMatch(words, /alone|one of them/);
  assert.equal(reckonedWords("good", "good"), "All its faults taken together make it “good”.");
});
