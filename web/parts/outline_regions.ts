/** The regions of an outline as polygons, and what of a level line lies in each. */

import type { Outline as Drawing, Shape } from "../job/types.ts";

export type Point = readonly [x: number, y: number];

/** A region: its rings of points, and the levels between which they lie. Units: those of the drawing. */
export type Region = { zone: string; rings: Point[][]; top: number; bottom: number };

/** A curve is cut into so many straight pieces: less than a pixel beside the curve on a phone. */
const PIECES = 12;

/** The regions of a drawing, from the bottom up. */
export function regionsOf(drawing: Pick<Drawing, "shapes">): Region[] {
  return drawing.shapes.flatMap((shape) => {
    const rings = shape.zone ? ringsOf(shape) : [];
    if (!shape.zone || !rings.some((ring) => ring.length > 2)) return [];
    const levels = rings.flat().map(([, y]) => y);
    return [{ zone: shape.zone, rings, top: Math.min(...levels), bottom: Math.max(...levels) }];
  });
}

/** From where to where a level line at `y` lies in a region: rings wind round it (SVG's rule, `fill-rule: nonzero`). */
export function spansAt({ rings }: Region, y: number): [from: number, to: number][] {
  const crossed: Crossing[] = [];
  for (const ring of rings) cross(ring, y, crossed);
  crossed.sort((a, b) => a.x - b.x);
  const spans: [number, number][] = [];
  let winding = 0;
  for (let index = 0; index + 1 < crossed.length; index += 1) {
    const [here, next] = [crossed[index] as Crossing, crossed[index + 1] as Crossing];
    winding += here.turn;
    if (winding) spans.push([here.x, next.x]);
  }
  return spans;
}

type Crossing = { x: number; turn: number };

/** Add where the sides of a ring cross a level line, and whether they go down there (1) or up. */
function cross(ring: Point[], y: number, crossed: Crossing[]): void {
  let from = ring.at(-1) as Point;
  for (let index = 0; index < ring.length; index += 1) {
    const to = ring[index] as Point;
    const [y1, y2] = [from[1], to[1]];
    if (y1 <= y !== y2 <= y)
      crossed.push({ x: from[0] + ((y - y1) / (y2 - y1)) * (to[0] - from[0]), turn: y2 > y1 ? 1 : -1 });
    from = to;
  }
}

function ringsOf({ shape, attributes }: Shape): Point[][] {
  const number = (name: string) => Number(attributes[name] ?? 0);
  if (shape === "circle") return [round(number("cx"), number("cy"), number("r"), number("r"))];
  if (shape === "ellipse") return [round(number("cx"), number("cy"), number("rx"), number("ry"))];
  if (shape === "rect") {
    const [x, y, right, bottom] = [
      number("x"),
      number("y"),
      number("x") + number("width"),
      number("y") + number("height"),
    ];
    return [
      [
        [x, y],
        [right, y],
        [right, bottom],
        [x, bottom],
      ],
    ];
  }
  return ringsOfPath(shape === "path" ? (attributes.d ?? "") : `M${attributes.points ?? ""}Z`);
}

const shares = Array.from({ length: PIECES }, (_, index) => (index + 1) / PIECES);

function round(cx: number, cy: number, rx: number, ry: number): Point[] {
  return Array.from({ length: 2 * PIECES }, (_, index): Point => {
    const angle = (index * Math.PI) / PIECES;
    return [cx + rx * Math.cos(angle), cy + ry * Math.sin(angle)];
  });
}

/** How many numbers follow each command; the plans' drawings have absolute commands only. */
const NUMBERS: Record<string, number> = { M: 2, L: 2, H: 1, V: 1, C: 6, Q: 4, A: 7 };

function ringsOfPath(path: string): Point[][] {
  const rings: Point[][] = [];
  for (const [, letter = "", tail = ""] of path.matchAll(/([A-Z])([^A-Z]*)/g)) {
    const numbers = tail.match(/-?[\d.]+/g)?.map(Number) ?? [];
    const size = NUMBERS[letter] ?? 0;
    for (let at = 0; size && at + size <= numbers.length; at += size) {
      if (letter === "M" && at === 0) rings.push([]);
      const ring = rings.at(-1);
      ring?.push(...pieceOf(letter, ring.at(-1) ?? [0, 0], numbers.slice(at, at + size)));
    }
  }
  return rings;
}

/** The points that one command adds after the point where it begins. */
function pieceOf(letter: string, [x, y]: Point, numbers: number[]): Point[] {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0] = numbers;
  if (letter === "H") return [[a, y]];
  if (letter === "V") return [[x, a]];
  if (letter === "Q") return shares.map((t) => onCurve(t, [x, y], [a, b], [c, d]));
  if (letter === "C") return shares.map((t) => onCurve(t, [x, y], [a, b], [c, d], [e, f]));
  if (letter === "A") return arc([x, y], { rx: a, ry: b, turned: c, large: d, sweep: e }, [f, g]);
  return [[a, b]];
}

/** A point of a Bézier curve, by de Casteljau's steps: midway between midways until one is left. */
function onCurve(share: number, ...points: Point[]): Point {
  const between = points.slice(1).map((point, index): Point => mix(points[index] as Point, point, share));
  return between.length > 1 ? onCurve(share, ...between) : (between[0] as Point);
}

function mix([x1, y1]: Point, [x2, y2]: Point, share: number): Point {
  return [x1 + (x2 - x1) * share, y1 + (y2 - y1) * share];
}

type ArcFlags = { rx: number; ry: number; turned: number; large: number; sweep: number };

/**
 * An elliptical arc. Source: SVG 2, B.2.4, conversion from endpoint to centre parameters, and B.2.5 for small radii.
 */
function arc(from: Point, { rx, ry, turned, large, sweep }: ArcFlags, to: Point): Point[] {
  const [cos, sin] = [Math.cos((turned * Math.PI) / 180), Math.sin((turned * Math.PI) / 180)];
  const [dx, dy] = [(from[0] - to[0]) / 2, (from[1] - to[1]) / 2];
  const [x, y] = [cos * dx + sin * dy, cos * dy - sin * dx];
  const grown = Math.sqrt(Math.max(1, (x / rx) ** 2 + (y / ry) ** 2));
  const [wide, high] = [rx * grown, ry * grown];
  const rest = (wide * high) ** 2 / ((wide * y) ** 2 + (high * x) ** 2) - 1;
  const way = (large === sweep ? -1 : 1) * Math.sqrt(Math.max(0, rest));
  const [cx, cy] = [(way * wide * y) / high, (-way * high * x) / wide];
  const begin = Math.atan2((y - cy) / high, (x - cx) / wide);
  let turn = Math.atan2((-y - cy) / high, (-x - cx) / wide) - begin;
  if (sweep && turn < 0) turn += 2 * Math.PI;
  if (!sweep && turn > 0) turn -= 2 * Math.PI;
  const [mx, my] = mix(from, to, 0.5);
  return shares.map((share): Point => {
    const [ex, ey] = [cx + wide * Math.cos(begin + share * turn), cy + high * Math.sin(begin + share * turn)];
    return [mx + cos * ex - sin * ey, my + sin * ex + cos * ey];
  });
}
