/** A load: what left by name, and what of it has come, whoever counted it and wherever. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lackingWords } from "../../web/job/closing.ts";
import { arrivalWords, loadsThatLeft, notCome } from "../../web/job/loads.ts";
import { run, shown } from "../../web/job/tag.ts";

const [BIG, SMALL, POT, COVER, OTHER] = run("00002Y", 5);
const set = (value, made_at = "") => ({ value, operation_id: "", made_by: "", made_at, device_id: "" });
const at = (to_place) => set({ move_id: "m", from_place: null, to_place, at: "" });
const crate = (record_id, number, place) => ({
  kind: "container",
  record_id,
  kind_of: "crate",
  number,
  fields: { whereabouts: at(place) },
  disagreements: [],
});
/** A pot whose cover has a tag of its own and may be elsewhere. */
const teapot = (pot, cover) => ({
  kind: "item",
  record_id: "teapot",
  fields: {
    short_description: set("teapot"),
    [`tags/${POT}`]: set({ tag: POT, piece: 1, of: 2, gone: null }),
    [`tags/${COVER}`]: set({ tag: COVER, piece: 2, of: 2, gone: null }),
    whereabouts: at(pot),
    [`whereabouts/${COVER}`]: at(cover),
  },
  disagreements: [],
});
const left = (numbers, more = {}) => ({
  to_place: "van",
  at: "",
  given_by: "a",
  taken_by: "b",
  numbers,
  ...more,
});
const arrival = (numbers, of_load = "l") => ({ ...left(numbers), to_place: "store", of_load });
function loadsOf(loads, { items = [], containers = [] } = {}) {
  const fields = Object.fromEntries(
    Object.entries(loads).map(([id, value], index) => [
      `loads/${id}`,
      set(value, `2026-03-14T10:0${index}:00Z`),
    ]),
  );
  return loadsThatLeft({ day: { fields, disagreements: [] }, items, containers });
}

test("of two crates that left, the one that did not come is named", () => {
  const containers = [crate("big", BIG, "van"), crate("small", SMALL, "van")];
  const [load] = loadsOf({ l: left([BIG, SMALL], { at: "trip 1" }), a: arrival([BIG]) }, { containers });
  assert.deepEqual(
    notCome(load).map(({ number }) => number),
    [SMALL],
  );
  assert.deepEqual(arrivalWords(load), {
    agrees: false,
    words: `1 of 2 that left have come. Not come: crate ${shown(SMALL)}`,
  });
  assert.equal(lackingWords(load), `load to van, trip 1: 1 of 2 things not come: crate ${shown(SMALL)}`);
});

test("what came in two goes, or was moved on with no count, has come", () => {
  const containers = [crate("big", BIG, "van"), crate("small", SMALL, "van")];
  const twice = loadsOf({ l: left([BIG, SMALL]), a: arrival([BIG]), b: arrival([SMALL]) }, { containers });
  assert.deepEqual(arrivalWords(twice[0]), { agrees: true, words: "2 of 2 that left have come" });
  const moved = loadsOf({ l: left([BIG]) }, { containers: [crate("big", BIG, "shelf")] });
  assert.equal(lackingWords(moved[0]), "");
});

test("an arrival counts for its own load alone", () => {
  const containers = [crate("big", BIG, "van")];
  const [load] = loadsOf({ l: left([BIG]), a: arrival([BIG], "another") }, { containers });
  assert.equal(notCome(load).length, 1);
});

test("a cover that stayed in the van is named by itself", () => {
  const [load] = loadsOf({ l: left([POT, COVER]) }, { items: [teapot("store", "van")] });
  assert.deepEqual(
    notCome(load).map(({ words }) => words),
    [`teapot ${shown(COVER)}, piece 2 of 2`],
  );
});

test("what came and had not left is said as well", () => {
  const containers = [crate("big", BIG, "store"), crate("other", OTHER, "store")];
  const [load] = loadsOf({ l: left([BIG]), a: arrival([BIG, OTHER]) }, { containers });
  assert.deepEqual(arrivalWords(load), {
    agrees: false,
    words: `1 of 1 that left have come. Came and had not left with it: crate ${shown(OTHER)}`,
  });
});

test("loads of before had no numbers, and the latest stands first", () => {
  assert.deepEqual(loadsOf({ l: left(undefined) }), []);
  assert.deepEqual(
    loadsOf({ one: left([BIG]), two: left([SMALL]) }).map(({ id }) => id),
    ["two", "one"],
  );
});
