/** Where the marks of an outline stand: one on each region that somebody spoke of, none on another. */

import type { Outline as Drawing, Shape } from "../job/types.ts";

/** So wide and high a drawing of the walk is on a phone of 390 px. */
const ON_A_PHONE = { width: 220, height: 198 };

/** How many of a drawing's units one pixel of that phone is. */
export function unitsInPixel({ width, height }: Pick<Drawing, "width" | "height">): number {
  return Math.max(width / ON_A_PHONE.width, height / ON_A_PHONE.height);
}

/** So wide a mark is drawn there, and so far apart two of them stand at least, in pixels. */
export const MARK_PX = 14;

/**
 * Where the marks stand: in the middle of their region, or, since regions lie inside each other, nearer its rim. A mark for
 * which there is no room is left out, findings first: the region's line tells its state as well.
 */
export function marksOf(drawing: Drawing, stateOf: (key: string) => string) {
  const order = ["finding", "not-examined", "clear"];
  const placed: { zone: string; state: string; x: number; y: number }[] = [];
  const wanted = drawing.shapes.flatMap((shape) =>
    shape.zone && stateOf(shape.zone) !== "untouched"
      ? [{ shape, zone: shape.zone, state: stateOf(shape.zone) }]
      : [],
  );
  const apart = MARK_PX * unitsInPixel(drawing);
  for (const { shape, zone, state } of wanted.sort(
    (one, other) => order.indexOf(one.state) - order.indexOf(other.state),
  )) {
    const isFree = ([x, y]: Point) => placed.every((mark) => Math.hypot(mark.x - x, mark.y - y) >= apart);
    const spot = spotsOn(shape).find(isFree);
    if (spot) placed.push({ zone, state, x: spot[0], y: spot[1] });
  }
  return placed;
}

type Point = [x: number, y: number];

/** A shape is of the plan's data, which nobody changes: its spots are worked out once, not for each drawing of it. */
const spots = new WeakMap<Shape, Point[]>();

/** Where a mark can stand on a shape: its middle, then near its corners or round its rim. */
function spotsOn(shape: Shape): Point[] {
  const found = spots.get(shape) ?? spotsBy(shape);
  spots.set(shape, found);
  return found;
}

/** So much of the way from the middle to the rim: a mark there still lies on its own region. */
const NEAR_RIM = 0.85;

function spotsBy({ shape, attributes }: Shape): Point[] {
  const number = (name: string) => Number(attributes[name] ?? 0);
  if (shape === "circle" || shape === "ellipse") {
    const [cx, cy] = [number("cx"), number("cy")];
    const [rx, ry] = shape === "circle" ? [number("r"), number("r")] : [number("rx"), number("ry")];
    return [[cx, cy], ...EIGHT_WAYS.map(([x, y]): Point => [cx + x * rx * NEAR_RIM, cy + y * ry * NEAR_RIM])];
  }
  const points = shape === "rect" ? cornersOf(number) : pointsOf(attributes.d ?? attributes.points ?? "");
  if (!points.length) return [[0, 0]];
  const middle = (all: number[]) => (Math.min(...all) + Math.max(...all)) / 2;
  const [mx, my] = [middle(points.map(([x]) => x)), middle(points.map(([, y]) => y))];
  return [[mx, my], ...points.map(([x, y]): Point => [mx + (x - mx) * NEAR_RIM, my + (y - my) * NEAR_RIM])];
}

const EIGHT_WAYS = Array.from({ length: 8 }, (_, way): Point => {
  const angle = (way * Math.PI) / 4;
  return [Math.cos(angle), Math.sin(angle)];
});

function cornersOf(number: (name: string) => number): Point[] {
  const [x, y, width, height] = [number("x"), number("y"), number("width"), number("height")];
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}

/** The points of absolute path commands; control points count too, which is near enough for a mark. */
function pointsOf(path: string): Point[] {
  const points: Point[] = [];
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
