/** What is where: every thing once, at the place where it stands. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { run, shown } from "../../web/job/tag.ts";
import { whatIsWhere } from "../../web/job/where_list.ts";
import { STOP } from "./made.js";

const [BOX, CRATE, POT, COVER, VASE] = run("00002Y", 5);
const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const at = (to_place, spot = "") => ({
  whereabouts: set({ move_id: "m", from_place: null, to_place, at: spot }),
});
const inside = (container_id) => ({ inside: set({ container_id }) });
const tied = (tag, piece = 1, of = 1) => ({ [`tags/${tag}`]: set({ tag, piece, of, gone: null }) });
const item = (record_id, ...fields) => ({
  kind: "item",
  record_id,
  disagreements: [],
  fields: Object.assign({ short_description: set(record_id) }, ...fields),
});
const box = (record_id, number, ...fields) => ({
  kind: "container",
  record_id,
  number,
  kind_of: "box",
  disagreements: [],
  fields: Object.assign({}, ...fields),
});
const said = (items, containers = []) =>
  whatIsWhere(items, containers).map(({ words, standing, items }) => [
    words,
    standing.map((one) => one.words),
    items,
  ]);

test("what lies in a container is counted with it and stands nowhere else", () => {
  const containers = [box("crate", CRATE, at("van")), box("box", BOX, inside("crate"))];
  assert.deepEqual(said([item("vase", tied(VASE), inside("box"))], containers), [
    ["Van", ["Box: 1 item"], 1],
  ]);
});

test("each shelf is a place, in the order of its number; a trip is none", () => {
  const shelves = [item("a", at("shelf", "10")), item("b", at("shelf", "9")), item("c", at("shelf", " 9"))];
  assert.deepEqual(said(shelves), [
    ["Shelf 9", ["B", "C"], 2],
    ["Shelf 10", ["A"], 1],
  ]);
  assert.deepEqual(said([item("a", at("van", "trip 1")), item("b", at("van", "trip 2"))]), [
    ["Van", ["A", "B"], 2],
  ]);
});

test("places follow the way, what nobody moved is at the table, and what went home is not listed", () => {
  const things = [item("a", at("store")), item("b"), item("c", at("holding")), item("d", at("returned"))];
  assert.deepEqual(
    said(things).map(([words]) => words),
    ["Table", "Holding area", "Store"],
  );
});

test("an empty box that went home is not listed either", () => {
  assert.deepEqual(said([], [box("box", BOX, at("returned")), box("crate", CRATE, at("van"))]), [
    ["Van", ["Box: 0 items"], 0],
  ]);
});

test("a piece with a tag of its own stands where it is, and its item counts there once", () => {
  const pot = item("pot", tied(POT, 1, 2), tied(COVER, 2, 2), at("store"), {
    [`whereabouts/${COVER}`]: at("holding").whereabouts,
  });
  assert.deepEqual(said([pot]), [
    ["Holding area", ["Pot, piece 2 of 2"], 1],
    ["Store", ["Pot, piece 1 of 2"], 1],
  ]);
});

test("a record that stands behind another is no second thing", () => {
  assert.deepEqual(said([item("a", { merged: set({ into_id: "b" }) }), item("b")]), [["Table", ["B"], 1]]);
});

test("a thing is looked at as often with thirty containers as with one", () => {
  const looks = (containers) => {
    let count = 0;
    const vase = item("vase", tied(VASE), inside("box"));
    const { fields } = vase;
    const look = () => {
      count += 1;
      return fields;
    };
    const watched = Object.defineProperty({ ...vase }, "fields", { get: look });
    whatIsWhere([watched], containers);
    return count;
  };
  const empty = Array.from({ length: 29 }, (_, index) => box(`empty ${index}`, CRATE));
  assert.equal(looks([box("box", BOX), ...empty]), looks([box("box", BOX)]));
});

test("what went with whoever it was referred to stands nowhere in the house", () => {
  const decided = (place) => ({
    "cautions/c": set(STOP),
    "caution-decisions/c": set({ decision: "referred", decided_by: "the police", place }),
  });
  assert.deepEqual(said([item("tin", decided("gone with the police"))]), []);
  assert.deepEqual(said([item("tin", decided(""))]), [["Table", ["Tin"], 1]]);
});

const later = (fields) =>
  Object.fromEntries(
    Object.entries(fields).map(([name, one]) => [name, { ...one, made_at: "2026-03-14T10:20:00Z" }]),
  );
const missed = {
  "check-in": {
    ...set({ state: "not-here", words: "", second_by: "Ana" }),
    made_at: "2026-03-14T10:10:00Z",
  },
};

test("what was not there as its crate was unpacked is nowhere, until somebody has it in hand", () => {
  const containers = [box("crate", CRATE, at("store"))];
  const here = item("jug", tied(POT), inside("crate"));
  const vase = (...fields) => item("vase", tied(VASE), inside("crate"), missed, ...fields);
  assert.deepEqual(said([vase(), here], containers), [
    ["Not there as it was unpacked", [`Vase, not in box ${shown(CRATE)}`], 1],
    ["Store", ["Box: 1 item"], 1],
  ]);
  assert.deepEqual(said([vase(later(at("shelf", "4")))], containers), [
    ["Store", ["Box: 0 items"], 0],
    ["Shelf 4", ["Vase"], 1],
  ]);
  assert.deepEqual(said([vase(later(inside("crate")))], containers), [["Store", ["Box: 1 item"], 1]]);
});
