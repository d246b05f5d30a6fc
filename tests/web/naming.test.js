/** A few words for a thing, of which some are pressed instead of typed. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { offersFor } from "../../web/job/naming.ts";

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

test("words of earlier things come first, those of several before those of one", () => {
  const used = ["chipped vase", "transfer-printed jug", "blue jug, a pair"];
  assert.deepEqual(words("", used).slice(0, 5), ["jug", "vase", "chipped", "transfer-printed", "blue"]);
  assert.deepEqual(words("tr", used), ["transfer-printed"]);
  assert.ok(!words("", used).includes("a"), "too short to be worth a press");
});

test("words that belong together are one", () => {
  assert.deepEqual(words("", ["Bone china vase"]).slice(0, 2), ["bone china", "vase"]);
  assert.ok(!words("", ["Bone china vase"]).includes("china"));
});
