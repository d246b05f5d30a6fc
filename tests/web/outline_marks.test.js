/** Marks on a drawing: each on its own region, and far enough apart to be told from each other. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { marksOf } from "../../web/parts/outline_marks.ts";
import { book } from "./plan_book.js";

const allFound = () => "finding";
const apart = (one, other) => Math.hypot(one.x - other.x, one.y - other.y);

/** So wide and high a drawing of the walk is on a phone of 390 px, its line and padding left out. Source: table.css. */
const ON_A_PHONE = { width: 220, height: 198 };
/** Common practice: two drawn signs nearer than that are read as one at arm's length. */
const LEAST_PX = 12;

test("marks on every shipped drawing are 12 px apart on a phone", () => {
  for (const [class_id, drawings] of Object.entries(book.outlines))
    for (const drawing of drawings) {
      const scale = Math.min(ON_A_PHONE.width / drawing.width, ON_A_PHONE.height / drawing.height);
      const marks = marksOf(drawing, allFound);
      for (const [index, mark] of marks.entries())
        for (const other of marks.slice(index + 1))
          assert.ok(
            apart(mark, other) * scale >= LEAST_PX,
            `${class_id} ${drawing.outline}: ${mark.zone}, ${other.zone}`,
          );
    }
});

test("regions that lie round each other are marked each on its own rim", () => {
  const ring = (zone, r) => ({ shape: "circle", zone, attributes: { cx: "100", cy: "100", r: String(r) } });
  const shapes = [ring("barrel", 60), ring("ring", 40), ring("glass", 20)];
  const marks = marksOf({ width: 200, height: 200, shapes }, allFound);
  assert.deepEqual(
    marks.map(({ zone }) => zone),
    ["barrel", "ring", "glass"],
  );
  const [first, ...others] = marks;
  assert.deepEqual([first.x, first.y], [100, 100]);
  for (const { zone, x, y } of others)
    assert.ok(Math.hypot(x - 100, y - 100) <= { ring: 40, glass: 20 }[zone], `${zone} is on its own region`);
});
