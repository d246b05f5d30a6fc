/** How well records fit words: rare before common, the word before its beginning, its beginning before a likeness. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { distance, WordIndex } from "../../web/job/word_index.ts";

const RECORDS = {
  clock: { name: "clock brass", rest: "pendulum" },
  watch: { name: "watch gold gold", rest: "clock" },
  ring: { name: "ring gold", rest: "stone" },
};

function indexOf(records = RECORDS, weights = { name: 5, rest: 1 }) {
  const fields = Object.entries(weights).map(([name, weight]) => ({
    name,
    weight,
    words: (id) => records[id][name].split(" "),
  }));
  return new WordIndex(Object.keys(records), fields);
}

const asked = (...words) => words.map((word) => ({ word, slips: 0 }));
const idsFor = (index, ...words) => index.search(asked(...words)).map(({ id }) => id);

test("a word's part is BM25+, reckoned by hand", () => {
  // Source: Lv and Zhai (2011), with k1 = 1.2, b = 0.7, delta = 0.5; rarity as ln(1 + (N - n + 0.5) / (n + 0.5)).
  // Of three records with two words each, two have gold: ln(1.6) = 0.470004, and for one mention 0.5 + 2.2 / 2.2.
  const [ring, watch] = ["ring", "watch"].map((id) =>
    indexOf(RECORDS, { name: 1 })
      .search(asked("gold"))
      .find((fit) => fit.id === id),
  );
  assert.ok(Math.abs(ring.score - 0.470004 * 1.5) < 1e-5, String(ring.score));
  // Twice: 0.5 + 4.4 / 3.2 = 1.875.
  assert.ok(Math.abs(watch.score - 0.470004 * 1.875) < 1e-5, String(watch.score));
});

test("the field that weighs more decides, and it is said which field it was", () => {
  const fits = indexOf().search(asked("clock"));
  assert.deepEqual(
    fits.map(({ id, by }) => [id, by]),
    [
      ["clock", [{ asked: "clock", word: "clock", field: "name" }]],
      ["watch", [{ asked: "clock", word: "clock", field: "rest" }]],
    ],
  );
  assert.deepEqual(idsFor(indexOf(RECORDS, { name: 1, rest: 5 }), "clock"), ["watch", "clock"]);
});

test("a record that has both words stands before one that is called by one of them", () => {
  const records = {
    coin: { name: "gold gold gold", rest: "clasp" },
    brooch: { name: "silver", rest: "gold stone" },
  };
  const index = indexOf(records, { name: 2, rest: 1 });
  assert.deepEqual(idsFor(index, "gold"), ["coin", "brooch"]);
  assert.deepEqual(idsFor(index, "gold", "stone"), ["brooch", "coin"]);
});

test("the word counts more than its beginning, that more than a likeness, and a single letter begins nothing", () => {
  const scoreOf = (word, slips = 0) => indexOf().search([{ word, slips }])[0]?.score ?? 0;
  const scores = [scoreOf("pendulum"), scoreOf("pendul"), scoreOf("pen"), scoreOf("pendulun", 1)];
  assert.deepEqual(
    scores,
    [...scores].sort((one, other) => other - one),
  );
  assert.ok(new Set(scores).size === scores.length && scores.at(-1) > 0);
  assert.equal(scoreOf("p"), 0);
});

test("no more letters may be wrong than was said", () => {
  const found = (word, slips) =>
    indexOf()
      .search([{ word, slips }])
      .map(({ id }) => id);
  assert.deepEqual(found("clack", 0), []);
  assert.deepEqual(found("brqss", 1), ["clock"]);
  assert.deepEqual(found("brqsz", 1), []);
  assert.deepEqual(found("brqsz", 2), ["clock"]);
  assert.deepEqual(found("bras5es", 2), ["clock"], "two letters too many");
});

test("how far two words are apart", () => {
  // Source: the example of every textbook on edit distance (Levenshtein, 1966): kitten and sitting, three.
  assert.equal(distance("kitten", "sitting"), 3);
  assert.equal(distance("", "vase"), 4);
  assert.equal(distance("vase", ""), 4);
  assert.equal(distance("vase", "vase"), 0);
  assert.ok(distance("kitten", "porcelain", 2) > 2, "and nobody reckons on once it is too much");
  assert.equal(distance("kitten", "sitting", 3), 3, "what is just allowed is reckoned");
});

test("of two words that are one letter off the longer is the more alike", () => {
  const records = { short: { name: "lock" }, long: { name: "block" } };
  const fits = indexOf(records, { name: 1 }).search([{ word: "clock", slips: 1 }]);
  assert.deepEqual(
    fits.map(({ id }) => id),
    ["long", "short"],
  );
});
