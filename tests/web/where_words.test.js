/** Where a thing is, in words: nothing of what is at the table, and each piece by itself where they are apart. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { pieceMoved } from "../../web/job/contents.ts";
import { run, shown } from "../../web/job/tag.ts";
import { awayWords } from "../../web/job/where_words.ts";

const [CRATE, POT, COVER] = run("00002Y", 3);
const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const at = (to_place, spot = "", tag = null) => ({
  [tag ? `whereabouts/${tag}` : "whereabouts"]: set({
    move_id: "m",
    from_place: null,
    to_place,
    at: spot,
    tag,
  }),
});
const inside = (container_id) => ({ inside: set({ container_id }) });
const tied = (tag, piece = 1, of = 1) => ({ [`tags/${tag}`]: set({ tag, piece, of, gone: null }) });
const item = (...fields) => ({
  kind: "item",
  record_id: "pot",
  disagreements: [],
  fields: Object.assign({}, ...fields),
});
const crate = (...fields) => ({
  kind: "container",
  record_id: "crate",
  number: CRATE,
  kind_of: "crate",
  disagreements: [],
  fields: Object.assign({}, ...fields),
});
const words = (thing, ...containers) =>
  awayWords(thing, new Map(containers.map((container) => [container.record_id, container])));

test("of a thing at the table nothing is said", () => {
  assert.equal(words(item(tied(POT))), "");
  assert.equal(words(item()), "");
});

test("a thing that was moved is where it was moved to, or where its container is", () => {
  assert.equal(words(item(tied(POT), at("shelf", "B3"))), "Shelf, B3.");
  assert.equal(
    words(item(tied(POT), inside("crate")), crate(at("van"))),
    `Van, inside crate ${shown(CRATE)}.`,
  );
  assert.equal(words(item(tied(POT), inside("crate")), crate()), `Table, inside crate ${shown(CRATE)}.`);
});

test("pieces that are apart are named one by one", () => {
  assert.equal(
    words(item(tied(POT, 1, 2), tied(COVER, 2, 2), at("van", "", COVER))),
    `${shown(POT)}, piece 1 of 2: Table. ${shown(COVER)}, piece 2 of 2: Van.`,
  );
});

test("a thing that was not there as its crate was unpacked is said to be missing", () => {
  const missed = (container) => {
    const value = { state: "not-here", words: "", second_by: "Ana" };
    return words(
      item(tied(POT), container, { "check-in": { ...tied(POT)[`tags/${POT}`], value } }),
      crate(at("store")),
    );
  };
  const since = "Nobody has found it since.";
  assert.equal(missed(inside("crate")), `Not there as crate ${shown(CRATE)} was unpacked. ${since}`);
  assert.equal(missed({}), `Not there as it was unpacked. ${since}`);
});

test("of six under one number of which one got its own, each number says on how many it is", () => {
  const pieces = { pieces: { ...tied(POT)[`tags/${POT}`], value: 6 } };
  const [[name, shelf]] = Object.entries(at("shelf", "B3", POT));
  const moved = { [name]: { ...shelf, made_at: "2026-03-14T10:20:00Z" } };
  const packed = { inside: { ...inside("crate").inside, made_at: "2026-03-14T10:10:00Z" } };
  const cups = item(tied(POT), tied(COVER, 2, 2), pieces, packed, moved);
  assert.equal(
    words(cups, crate(at("store"))),
    `${shown(POT)}, 5 of 6: Shelf, B3. ${shown(COVER)}, 1 of 6: Store, inside crate ${shown(CRATE)}.`,
  );
  assert.equal(pieceMoved(cups, POT), ", 5 of 6");
});
