/** A few words for a thing, of which some are pressed instead of typed. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { chosenOf, offersFor } from "../../web/job/naming.ts";

const CALLED = ["bone china", "porcelain", "teapot and cover", "plate", "jug", "bowl", "vase", "figure"];
const words = (typed, used = [], called = CALLED) => offersFor(typed, used, called).map(({ words }) => words);
const becomes = (typed, used = []) => offersFor(typed, used, CALLED).map(({ becomes }) => becomes);

test("before anything is typed the class's own words are offered, and no more than two rows of them", () => {
  assert.deepEqual(words(""), ["bone china", "porcelain", "teapot and cover", "plate", "jug", "bowl"]);
  assert.deepEqual(becomes("")[0], "bone china");
  assert.deepEqual(words("", [], []), []);
});

test("the word that was begun is gone on with, whatever stands before it stays", () => {
  assert.deepEqual(becomes("bo"), ["bone china", "bowl"]);
  assert.deepEqual(becomes("Large Bo"), ["Large bone china", "Large bowl"]);
  assert.deepEqual(becomes("blue p"), ["blue porcelain", "blue plate"]);
  assert.deepEqual(becomes("zz"), []);
});

test("what stands there already is offered no more, and the beginning of a word is no word", () => {
  assert.ok(!words("bone china, ").includes("bone china"));
  assert.ok(!words("Vase ").includes("vase"));
  assert.deepEqual(words("vases v"), ["vase"]);
});

test("what earlier things were called comes first, what several were before what one was", () => {
  const used = ["chipped vase", "transfer-printed jug", "blue jug, a pair"];
  assert.deepEqual(words("", used).slice(0, 3), ["jug", "vase", "bone china"]);
  assert.deepEqual(words("", used, ["jug"]).slice(1), [
    "chipped",
    "vase",
    "transfer-printed",
    "blue",
    "pair",
  ]);
  assert.deepEqual(words("tr", used), ["transfer-printed"]);
  assert.ok(!words("", used, []).includes("a"), "too short to be worth a press");
});

test("of each kind that is examined by itself a name comes first, and words that only join others never", () => {
  const called = ["mantel clock", "bracket clock", "wall clock", "longcase clock", "timepiece"];
  const used = ["clock with strike", "bracket clock with alarm", "wall clock, from the mains"];
  const kinds = [["longcase", "hall clock"], ["sundial"]];
  const offered = offersFor("", used, called, kinds).map(({ words }) => words);
  assert.deepEqual(offered.slice(0, 5), [
    "longcase clock",
    "bracket clock",
    "wall clock",
    "mantel clock",
    "timepiece",
  ]);
  assert.ok(!offersFor("w", used, called, kinds).some(({ words }) => words === "with"));
});

test("words that belong together are one", () => {
  assert.deepEqual(words("", ["Bone china vase"]).slice(0, 2), ["bone china", "vase"]);
  assert.ok(!words("", ["Bone china vase"]).includes("china"));
});

const WATCH = ["pocket watch", "wristwatch", "open face", "hunter", "gold-coloured", "steel", "with chain"];

test("a whole word is no end: all that may stand beside it is put behind it", () => {
  const after = offersFor("pocket watch", [], WATCH);
  assert.deepEqual(
    after.map(({ becomes }) => becomes),
    ["wristwatch", "open face", "hunter", "gold-coloured", "steel"]
      .map((word) => `pocket watch, ${word}`)
      .concat("pocket watch with chain"),
  );
  assert.equal(after[0].words, "wristwatch");
  assert.equal(
    offersFor("pocket watch, open face", [], WATCH)[2].becomes,
    "pocket watch, open face, gold-coloured",
  );
  assert.deepEqual(
    offersFor("a pocket watc", [], WATCH),
    [],
    "a word that nobody knows is gone on with by hand",
  );
  assert.deepEqual(
    becomes("bowl"),
    ["bowl, bone china", "bowl, porcelain", "bowl, teapot and cover"].concat(
      ["plate", "jug", "vase"].map((word) => `bowl, ${word}`),
    ),
  );
});

test("a word that was chosen is taken off again, and what stands round it stays", () => {
  const chosen = (typed) =>
    Object.fromEntries(chosenOf(typed, [], WATCH).map((one) => [one.words, one.becomes]));
  assert.deepEqual(chosen("pocket watch"), { "pocket watch": "" });
  assert.deepEqual(chosen("Pocket watch, open face, steel"), {
    "pocket watch": "open face, steel",
    "open face": "Pocket watch, steel",
    steel: "Pocket watch, open face",
  });
  assert.deepEqual(chosen("big steel hunter with chain"), {
    steel: "big hunter with chain",
    hunter: "big steel with chain",
    "with chain": "big steel hunter",
  });
  assert.deepEqual(chosen("wristwatches"), {});
  assert.deepEqual(
    chosenOf("teddy bear", [], ["teddy bear", "bear"]).map(({ words }) => words),
    ["teddy bear"],
  );
});
