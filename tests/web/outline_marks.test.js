/** Marks on a drawing: none lies on a zone that it does not speak of, and they can be told from each other. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { marksOf } from "../../web/parts/outline_marks.ts";
import { regionsOf } from "../../web/parts/outline_regions.ts";
import { book } from "./plan_book.js";

const allFound = () => "finding";
const apart = (one, other) => Math.hypot(one.x - other.x, one.y - other.y);

/** So wide and high a drawing of the walk is on a phone of 390 px, its line and padding left out. Source: table.css. */
const ON_A_PHONE = { width: 220, height: 198 };
/** Common practice: two drawn signs nearer than that are read as one at arm's length. */
const LEAST_PX = 12;

const everyDrawing = Object.entries(book.outlines).flatMap(([class_id, drawings]) =>
  drawings.map((drawing) => ({ drawing, name: `${class_id} ${drawing.outline}` })),
);

/**
 * The zone that shows at a point: of the regions it lies in the one drawn last.
 * Source: the angle that a ring makes round a point is a multiple of a full turn within it, and nothing outside.
 */
function showsAt(drawing, [x, y]) {
  const turn = (ring) =>
    ring.reduce((sum, [x1, y1], index) => {
      const [x2, y2] = ring[(index + 1) % ring.length];
      const [ax, ay, bx, by] = [x1 - x, y1 - y, x2 - x, y2 - y];
      return sum + Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    }, 0);
  const isIn = ({ rings }) => Math.abs(rings.reduce((sum, ring) => sum + turn(ring), 0)) > Math.PI;
  return regionsOf(drawing).findLast(isIn)?.zone ?? null;
}

test("every zone of every shipped drawing has a mark", () => {
  for (const { drawing, name } of everyDrawing)
    assert.deepEqual(
      marksOf(drawing, allFound).map(({ zone }) => zone),
      drawing.shapes.flatMap(({ zone }) => zone ?? []),
      name,
    );
});

test("no mark lies on another zone, and a line ends on the zone that it speaks of", () => {
  for (const { drawing, name } of everyDrawing)
    for (const { zone, x, y, to } of marksOf(drawing, allFound)) {
      const shows = showsAt(drawing, [x, y]);
      assert.equal(shows, to ? null : zone, `${name}: the mark of ${zone} lies on ${shows}`);
      if (to) assert.equal(showsAt(drawing, to), zone, `${name}: the line of ${zone}`);
    }
});

test("marks on every shipped drawing are 12 px apart on a phone", () => {
  for (const { drawing, name } of everyDrawing) {
    const scale = Math.min(ON_A_PHONE.width / drawing.width, ON_A_PHONE.height / drawing.height);
    const marks = marksOf(drawing, allFound);
    for (const [index, mark] of marks.entries())
      for (const other of marks.slice(index + 1))
        assert.ok(
          apart(mark, other) * scale > LEAST_PX - 1e-6,
          `${name}: ${mark.zone} and ${other.zone} are ${(apart(mark, other) * scale).toFixed(1)} px apart`,
        );
  }
});

test("a mark stays where it is whatever is said of other zones", () => {
  const [drawing] = book.outlines.ceramics;
  const all = new Map(marksOf(drawing, allFound).map((mark) => [mark.zone, mark]));
  for (const [zone, { x, y }] of all) {
    const [alone] = marksOf(drawing, (key) => (key === zone ? "clear" : "untouched"));
    assert.deepEqual([alone.zone, alone.x, alone.y], [zone, x, y]);
  }
});

test("regions that lie round each other are marked each on its own rim", () => {
  const ring = (zone, r) => ({ shape: "circle", zone, attributes: { cx: "100", cy: "100", r: String(r) } });
  const shapes = [ring("barrel", 60), ring("ring", 40), ring("glass", 20)];
  const marks = marksOf({ width: 200, height: 200, shapes }, allFound);
  const away = Object.fromEntries(marks.map(({ zone, x, y }) => [zone, Math.hypot(x - 100, y - 100)]));
  assert.ok(away.glass < 20 && away.ring > 20 && away.ring < 40, JSON.stringify(away));
  assert.ok(away.barrel > 40 && away.barrel < 60, JSON.stringify(away));
});

test("a region too thin for a mark has it beside the thing, at the end of a line", () => {
  const box = (zone, x, width) => ({
    shape: "rect",
    zone,
    attributes: { x: String(x), y: "60", width: String(width), height: "80" },
  });
  const [rim, body] = marksOf(
    { width: 200, height: 200, shapes: [box("rim", 60, 80), box("body", 64, 72)] },
    allFound,
  );
  assert.equal(body.to, undefined);
  assert.ok(rim.x < 60 || rim.x > 140 || rim.y < 60 || rim.y > 140, "beside the thing");
  assert.ok((rim.to[0] >= 60 && rim.to[0] <= 64) || (rim.to[0] >= 136 && rim.to[0] <= 140), "on the rim");
});

/** Source: SVG 2, B.2: of the arcs between two points the flags choose one, and radii too small are made to reach. */
test("arcs are followed as SVG draws them", () => {
  const ends = (d) => {
    const [{ rings }] = regionsOf({ shapes: [{ shape: "path", zone: "one", attributes: { d } }] });
    return rings[0];
  };
  for (const [d, middle] of [
    ["M0 0A10 10 0 0 1 20 0Z", [10, -10]], // sweep 1 turns with the clock, since y grows downwards
    ["M0 0A10 10 0 0 0 20 0Z", [10, 10]],
    ["M0 0A5 5 0 0 0 20 0Z", [10, 10]], // a radius of 5 cannot span 20: it becomes 10
    ["M0 0A20 10 90 0 1 20 0Z", [10, -20]], // turned by a right angle the long half stands upright
  ]) {
    const reached = ends(d).some(([x, y]) => Math.hypot(x - middle[0], y - middle[1]) < 0.01);
    assert.ok(reached, `${d} passes ${middle}: ${JSON.stringify(ends(d))}`);
  }
  const large = ends("M0 0A10 10 0 1 1 10 10Z").map(([, y]) => y);
  assert.ok(Math.min(...large) < -9.9, "the larger of the two arcs");
});
