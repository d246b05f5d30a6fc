/** What of a thing can go back to its owner by itself, and what it is taken out of then. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { liesIn, outOf, piecesToGive, pieceWithoutNumber } from "../../web/job/goes_back.ts";
import { record, tag } from "./made.js";

const three = (values = {}) =>
  record("item", "cups", {
    "tags/1": tag("1", { of: 3 }),
    "tags/2": tag("2", { piece: 2, of: 3 }),
    "tags/3": tag("3", { piece: 3, of: 3 }),
    ...values,
  });
const pieces = (item) => piecesToGive(item).map(({ piece }) => piece);
const TWO = { piece: 2, tags: ["2"] };
const gone = (piece, why) => ({ [`tags/${piece}`]: tag(piece, { piece: Number(piece), of: 3, gone: why }) });

test("a piece goes by itself while others stay, and under a number of its own", () => {
  assert.deepEqual(pieces(three()), [1, 2, 3]);
  assert.deepEqual(pieces(three({ pieces: 3 })), [1, 2, 3], "counted, and each has its number");
  assert.deepEqual(pieces(three(gone("3", "taken-back"))), [1, 2]);
  assert.deepEqual(
    pieces(three({ ...gone("3", "taken-back"), ...gone("2", "taken-back") })),
    [],
    "all that is left",
  );
  assert.deepEqual(
    pieces(three({ ...gone("3", "lost"), ...gone("2", "taken-back") })),
    [1],
    "one has no number",
  );
  assert.deepEqual(
    pieces(three({ "tags/4": tag("4", { piece: 3, of: 3 }) })),
    [1, 2],
    "one record has two numbers on a piece: on two things, for all that is known",
  );
  assert.deepEqual(pieces(record("item", "pot", { "tags/1": tag("1") })), []);
});

test("it is taken out of what all of it lies in, and the others stay there", () => {
  const crate = { container_id: "crate" };
  const out = { thing_id: "cups", container_id: "crate" };
  assert.deepEqual(outOf(three({ inside: crate }), ["1", "2", "3"], TWO), [{ ...out, tag: "2" }]);
  assert.deepEqual(outOf(three({ "inside/2": crate }), ["1", "2", "3"], TWO), [{ ...out, tag: "2" }]);
  assert.deepEqual(outOf(three({ "inside/2": crate }), ["1", "2", "3"], { piece: 1, tags: ["1"] }), []);
  assert.deepEqual(outOf(three({ inside: crate }), ["1", "2", "3"]), [{ ...out, tag: null }]);
});

test("of a thing that two records have a piece goes with the number of each", () => {
  const crate = { container_id: "crate" };
  const plates = three({ inside: crate });
  plates.doubles = [
    record("item", "two", { "tags/7": tag("7", { of: 2 }), "tags/8": tag("8", { piece: 2, of: 2 }) }),
  ];
  const one = { piece: 1, tags: ["1", "7"] };
  assert.deepEqual(piecesToGive(plates), [one, { piece: 2, tags: ["2", "8"] }, { piece: 3, tags: ["3"] }]);
  assert.deepEqual(outOf(plates, [], one), [
    { thing_id: "cups", tag: "1", container_id: "crate" },
    { thing_id: "two", tag: "7", container_id: "crate" },
  ]);
});

test("one of a set under one number gets a number of its own before it goes, and the others keep theirs", () => {
  const forks = (values) => record("item", "forks", { pieces: 6, "tags/1": tag("1"), ...values });
  assert.deepEqual(pieces(forks()), []);
  assert.deepEqual(pieceWithoutNumber(forks()), { piece: 2, of: 2 });
  const two = { "tags/2": tag("2", { piece: 2, of: 2 }) };
  assert.deepEqual(pieces(forks(two)), [2], "the first number is on the five others");
  const went = { "tags/2": tag("2", { piece: 2, of: 2, gone: "taken-back" }) };
  assert.deepEqual(pieces(forks(went)), []);
  assert.deepEqual(pieceWithoutNumber(forks(went)), { piece: 3, of: 3 });
  assert.equal(pieceWithoutNumber(forks({ ...went, pieces: 2 })), null, "the last is all that is here");
  assert.equal(pieceWithoutNumber(record("item", "pot", { "tags/1": tag("1") })), null);
  assert.equal(pieceWithoutNumber(record("item", "none", { pieces: 6 })), null, "it goes home without one");
  assert.equal(pieceWithoutNumber(three({ pieces: 3 })), null);
  const tied = { "tags/1": tag("1", { of: 3 }), "tags/2": tag("2", { piece: 2, of: 3 }) };
  assert.deepEqual(pieceWithoutNumber(record("item", "cups", { pieces: 3, ...tied })), { piece: 3, of: 3 });
});

test("a thing that is not here lies in nothing, and one without a number in what all of it lies in", () => {
  const crate = { container_id: "crate" };
  assert.deepEqual([liesIn(null, "1"), liesIn(undefined, null)], [null, undefined]);
  assert.deepEqual([liesIn(three({ inside: crate }), null), liesIn(three(), null)], ["crate", undefined]);
  assert.equal(liesIn(three({ "inside/2": crate }), "2"), "crate");
});

test("of a set that was counted again as fewer than its numbers say, none is left without a number", () => {
  const cups = (pieces) =>
    record("item", "cups", { "tags/1": tag("1", { of: 3 }), ...gone("2", "taken-back"), pieces });
  assert.equal(pieceWithoutNumber(cups(2)), null);
  assert.deepEqual(pieceWithoutNumber(cups(3)), { piece: 3, of: 3 });
});
