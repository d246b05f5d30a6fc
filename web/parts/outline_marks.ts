/**
 * Where the marks of an outline stand: each on what shows of its own region. One for which that is too small stands
 * beside the thing with a line to it, so that no mark lies on a zone that it does not speak of.
 */

import type { Outline as Drawing } from "../job/types.ts";
import { Grid, REACH } from "./outline_grid.ts";
import type { Point } from "./outline_regions.ts";

/** Where a mark stands; `to` is the end of its line where it stands beside the thing. */
type Place = { x: number; y: number; to?: Point };

export type Mark = Place & { zone: string; state: string };

/** The marks of the zones that somebody spoke of. Their places do not depend on what is said of other zones. */
export function marksOf(drawing: Drawing, stateOf: (key: string) => string): Mark[] {
  const spoken = drawing.shapes.flatMap(({ zone }) =>
    zone && stateOf(zone) !== "untouched" ? [{ zone, state: stateOf(zone) }] : [],
  );
  if (!spoken.length) return [];
  const places = placesOn(drawing);
  return spoken.flatMap(({ zone, state }) => {
    const place = places.get(zone);
    return place ? [{ zone, state, ...place }] : [];
  });
}

/** A drawing is of the plan's data, which nobody changes: its places are worked out once. */
const known = new WeakMap<Drawing, Map<string, Place>>();

/** Whether that is done already: the first time takes longer than all else of an entry. */
export function isPlaced(drawing: Drawing): boolean {
  return known.has(drawing);
}

export function placesOn(drawing: Drawing): Map<string, Place> {
  const places = known.get(drawing) ?? placesBy(drawing);
  known.set(drawing, places);
  return places;
}

/**
 * First those that fit on their region, in the middle of it. Of those too narrow each stands beside it if a short line
 * reaches it over no other zone, else on its region's widest part, its rim covered by the mark, or at the end of a long
 * line.
 */
function placesBy(drawing: Drawing): Map<string, Place> {
  const grid = new Grid(drawing);
  const places = new Map<string, Place>();
  const taken: number[] = [];
  const put = (zone: string, cell: number, to?: Point) => {
    const [x, y] = grid.point(cell);
    places.set(zone, to ? { x, y, to } : { x, y });
    taken.push(cell);
  };
  const roomiest = grid.roomiest();
  for (const [zone, cell] of roomiest)
    if (grid.room(cell) >= REACH && grid.isFree(cell, taken)) put(zone, cell);
  for (const [zone, cell] of roomiest) {
    if (places.has(zone)) continue;
    const beside = grid.room(cell) < REACH ? grid.besideTheThing(cell, taken) : undefined;
    const on = beside && beside.way <= SHORT ? undefined : grid.widestOf(zone, taken);
    if (on !== undefined) put(zone, on);
    else if (beside) put(zone, beside.cell, grid.point(cell));
  }
  return places;
}

/** A line of so many steps is short. */
const SHORT = 16;
