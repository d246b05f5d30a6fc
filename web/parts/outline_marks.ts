/** Where the marks of an outline stand: one in the middle of each region that somebody spoke of. */

import type { Outline as Drawing, Shape } from "../job/types.ts";

/** So far apart at least, in the drawing's units. */
const MARK_APART = 13;

/**
 * Where the marks stand. Regions lie inside each other, so a mark that would cover another is left out, findings first:
 * the region's line tells its state as well.
 */
export function marksOf(drawing: Drawing, stateOf: (key: string) => string) {
  const order = ["finding", "not-examined", "clear"];
  const placed: { zone: string; state: string; x: number; y: number }[] = [];
  const wanted = drawing.shapes.flatMap((shape) =>
    shape.zone && stateOf(shape.zone) !== "untouched"
      ? [{ shape, zone: shape.zone, state: stateOf(shape.zone) }]
      : [],
  );
  for (const { shape, zone, state } of wanted.sort(
    (one, other) => order.indexOf(one.state) - order.indexOf(other.state),
  )) {
    const [x, y] = centreOf(shape);
    if (placed.every((mark) => Math.hypot(mark.x - x, mark.y - y) >= MARK_APART))
      placed.push({ zone, state, x, y });
  }
  return placed;
}

/** A shape is of the plan's data, which nobody changes: its middle is worked out once, not for each drawing of it. */
const centres = new WeakMap<Shape, [number, number]>();

/** The middle of a shape by the numbers it is drawn with. */
function centreOf(shape: Shape): [number, number] {
  const centre = centres.get(shape) ?? middleOf(shape);
  centres.set(shape, centre);
  return centre;
}

function middleOf({ shape, attributes }: Shape): [number, number] {
  const number = (name: string) => Number(attributes[name] ?? 0);
  if (shape === "circle" || shape === "ellipse") return [number("cx"), number("cy")];
  if (shape === "rect") return [number("x") + number("width") / 2, number("y") + number("height") / 2];
  const points = pointsOf(attributes.d ?? attributes.points ?? "");
  const middle = (all: number[]) => (Math.min(...all) + Math.max(...all)) / 2;
  return points.length ? [middle(points.map(([x]) => x)), middle(points.map(([, y]) => y))] : [0, 0];
}

/** The points of absolute path commands; control points count too, which is near enough for a mark. */
function pointsOf(path: string): [number, number][] {
  const points: [number, number][] = [];
  let [x, y] = [0, 0];
  for (const [, letter = "L", tail = ""] of path.matchAll(/([A-Z])?([^A-Z]+)/g)) {
    const numbers = tail
      .trim()
      .split(/[\s,]+/)
      .filter(Boolean)
      .map(Number);
    const size = letter === "A" ? 7 : letter === "H" || letter === "V" ? 1 : 2;
    for (let end = size; end <= numbers.length; end += size) {
      const [before = 0, last = 0] = [numbers[end - 2], numbers[end - 1]];
      if (letter !== "V") x = letter === "H" ? last : before;
      if (letter !== "H") y = last;
      points.push([x, y]);
    }
  }
  return points;
}
