/** What of a thing can go back to its owner by itself, and what it is taken out of then. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { outOf, piecesToGive } from "../../web/job/goes_back.ts";
import { record, tag } from "./made.js";

const three = (values = {}) =>
  record("item", "cups", {
    "tags/1": tag("1", { of: 3 }),
    "tags/2": tag("2", { piece: 2, of: 3 }),
    "tags/3": tag("3", { piece: 3, of: 3 }),
    ...values,
  });
const pieces = (item) => piecesToGive(item).map(({ piece }) => piece);
const gone = (piece, why) => ({ [`tags/${piece}`]: tag(piece, { piece: Number(piece), of: 3, gone: why }) });

test("a piece goes by itself while others stay, and under a number of its own", () => {
  assert.deepEqual(pieces(three()), [1, 2, 3]);
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
  assert.deepEqual(pieces(three({ "tags/4": tag("4", { piece: 3, of: 3 }) })), [], "two numbers on a piece");
  assert.deepEqual(pieces(record("item", "pot", { "tags/1": tag("1") })), []);
});

test("it is taken out of what all of it lies in, and the others stay there", () => {
  const crate = { container_id: "crate" };
  const out = { thing_id: "cups", container_id: "crate" };
  assert.deepEqual(outOf(three({ inside: crate }), ["1", "2", "3"], "2"), [{ ...out, tag: "2" }]);
  assert.deepEqual(outOf(three({ "inside/2": crate }), ["1", "2", "3"], "2"), [{ ...out, tag: "2" }]);
  assert.deepEqual(outOf(three({ "inside/2": crate }), ["1", "2", "3"], "1"), []);
  assert.deepEqual(outOf(three({ inside: crate }), ["1", "2", "3"]), [{ ...out, tag: null }]);
});
