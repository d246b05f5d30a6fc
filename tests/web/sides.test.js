/** Whose left: which sides may be named on a zone, and where the same place is on the other side. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { mirrored, sidesOf } from "../../web/job/sides.ts";

const sides = (frame, frame_note = "") => sidesOf({ frame, frame_note });

test("each frame has its own sides, and each a centre", () => {
  // Proper left and right are the depicted person's own, the viewer's are those of whoever stands before it:
  // common practice, as in condition reporting of sculpture and of pictures.
  assert.deepEqual(sides("proper"), ["proper-right", "proper-left", "centre"]);
  assert.deepEqual(sides("viewer"), ["viewers-left", "viewers-right", "upper", "lower", "centre"]);
  assert.deepEqual(sides("own"), ["head", "tail", "fore-edge", "bass-side", "treble-side", "centre"]);
});

test("what is round or has a dial has the twelve hours of a clock, and nothing else has", () => {
  const hours = sides("viewer", "Clock positions, the maker's mark at six.").slice(5);
  assert.deepEqual(
    hours,
    [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12].map((hour) => `clock-${hour}`),
  );
});

test("the mirrored place of a mirrored place is the place itself", () => {
  const paired = ["proper-right", "proper-left", "viewers-left", "viewers-right", "bass-side", "treble-side"];
  const others = paired.map(mirrored);
  assert.deepEqual(others, [
    "proper-left",
    "proper-right",
    "viewers-right",
    "viewers-left",
    "treble-side",
    "bass-side",
  ]);
  for (const side of ["upper", "head", "centre", null]) assert.equal(mirrored(side), null);
});
