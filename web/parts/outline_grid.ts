/** Where there is room for a mark on an outline: points laid over it, each with the zone that shows there. */

import type { Outline as Drawing } from "../job/types.ts";
import { type Point, type Region, regionsOf, spansAt } from "./outline_regions.ts";

/** So wide and high a drawing of the walk is on a phone of 390 px. */
const ON_A_PHONE = { width: 220, height: 198 };

/** How many of a drawing's units one pixel of that phone is. */
export function unitsInPixel({ width, height }: Pick<Drawing, "width" | "height">): number {
  return Math.max(width / ON_A_PHONE.width, height / ON_A_PHONE.height);
}

/** So wide a mark is drawn there, in pixels, the air round its box included. */
export const MARK_PX = 14;

/** The box of a mark is so much narrower than that; marks are told apart from one another from this distance on. */
const ROOM_PX = 12;

/** Places are sought this far from each other, in pixels of that phone. */
const STEP_PX = 2;

/** How many steps there are from the middle of a mark to the rim of its room. */
export const REACH = Math.ceil(ROOM_PX / 2 / STEP_PX);

/** With so many steps round it a mark stands clear of its region's rim, and more are no gain. */
const PLENTY = REACH + 2;

/** So much longer a line counts where it runs over a zone that it does not speak of. */
const OVER_ANOTHER = 2;

/**
 * Points laid over a drawing in rows: which zone shows at each, and how many steps it is from there to anything else.
 */
export class Grid {
  private readonly step: number;
  private readonly wide: number;
  private readonly owners: (string | null)[];
  private readonly rooms: number[];

  constructor(drawing: Drawing) {
    this.step = STEP_PX * unitsInPixel(drawing);
    this.wide = Math.floor(drawing.width / this.step);
    const high = Math.floor(drawing.height / this.step);
    this.owners = Array.from({ length: this.wide * high }, () => null);
    for (const region of regionsOf(drawing)) this.fill(region, high);
    this.rooms = this.measured();
  }

  /** What is drawn later lies over what was drawn before. */
  private fill(region: Region, high: number): void {
    const first = Math.ceil(region.top / this.step - 0.5);
    const last = Math.min(high - 1, Math.floor(region.bottom / this.step - 0.5));
    for (let row = Math.max(0, first); row <= last; row += 1)
      for (const [from, to] of spansAt(region, (row + 0.5) * this.step)) {
        const begin = Math.max(0, Math.ceil(from / this.step - 0.5));
        const end = Math.min(this.wide, Math.floor(to / this.step - 0.5) + 1);
        if (begin < end) this.owners.fill(region.zone, row * this.wide + begin, row * this.wide + end);
      }
  }

  point(cell: number): Point {
    return [((cell % this.wide) + 0.5) * this.step, (Math.floor(cell / this.wide) + 0.5) * this.step];
  }

  room(cell: number): number {
    return this.rooms[cell] ?? 0;
  }

  /**
   * Of each zone the point with the most room, and of those with plenty the one nearest to the middle of what shows of
   * it. Zones of which nothing shows have none.
   */
  roomiest(): Map<string, number> {
    const middles = this.middles();
    const best = new Map<string, { cell: number; room: number; away: number }>();
    for (const [cell, zone] of this.owners.entries()) {
      const [x, y] = (zone && middles.get(zone)) || [0, 0];
      const [column, row] = this.columnAndRow(cell);
      const here = { cell, room: Math.min(this.room(cell), PLENTY), away: Math.hypot(column - x, row - y) };
      const held = zone ? best.get(zone) : here;
      const isBetter = !held || here.room > held.room || (here.room === held.room && here.away < held.away);
      if (zone && isBetter) best.set(zone, here);
    }
    return new Map([...best].map(([zone, { cell }]) => [zone, cell]));
  }

  /** The middle of what shows of each zone, in columns and rows. */
  private middles(): Map<string, [number, number]> {
    const sums = new Map<string, [columns: number, rows: number, count: number]>();
    for (const [cell, zone] of this.owners.entries()) {
      if (!zone) continue;
      const [columns, rows, count] = sums.get(zone) ?? [0, 0, 0];
      const [column, row] = this.columnAndRow(cell);
      sums.set(zone, [columns + column, rows + row, count + 1]);
    }
    return new Map(
      [...sums].map(([zone, [columns, rows, count]]) => [zone, [columns / count, rows / count]]),
    );
  }

  /**
   * The nearest free point beside the thing, away from those taken, with as little as may be between it and the zone.
   */
  besideTheThing(from: number, taken: readonly number[]): { cell: number; way: number } | undefined {
    let best: { cell: number; way: number } | undefined;
    for (const [cell, zone] of this.owners.entries()) {
      const least = best?.way ?? Number.POSITIVE_INFINITY;
      if (zone || this.room(cell) < REACH || this.steps(from, cell) >= least) continue;
      if (!this.isFree(cell, taken)) continue;
      const way = this.steps(from, cell) + OVER_ANOTHER * this.stepsOverOthers(from, cell);
      if (way < least) best = { cell, way };
    }
    return best;
  }

  /** The free point of a zone that is farthest from all that is not of it. */
  widestOf(zone: string, taken: readonly number[]): number | undefined {
    let best: number | undefined;
    for (const [cell, owner] of this.owners.entries())
      if (
        owner === zone &&
        this.room(cell) > this.room(best ?? -1) &&
        this.isOnPaper(cell) &&
        this.isFree(cell, taken)
      )
        best = cell;
    return best;
  }

  /** Whether a mark there is drawn whole. */
  private isOnPaper(cell: number): boolean {
    const [column, row] = this.columnAndRow(cell);
    const [right, down] = [this.wide - 1 - column, this.owners.length / this.wide - 1 - row];
    return Math.min(column, row, right, down) >= REACH - 1;
  }

  /** Whether a mark there stands apart from those that have their place. */
  isFree(cell: number, taken: readonly number[]): boolean {
    return taken.every((other) => this.stepsApart(cell, other) >= 2 * REACH);
  }

  private columnAndRow(cell: number): [number, number] {
    return [cell % this.wide, Math.floor(cell / this.wide)];
  }

  private between(a: number, b: number): [number, number] {
    const [[x1, y1], [x2, y2]] = [this.columnAndRow(a), this.columnAndRow(b)];
    return [x2 - x1, y2 - y1];
  }

  private steps(a: number, b: number): number {
    return Math.hypot(...this.between(a, b));
  }

  private stepsApart(a: number, b: number): number {
    return Math.max(...this.between(a, b).map(Math.abs));
  }

  private stepsOverOthers(from: number, to: number): number {
    const [[x, y], [right, down]] = [this.columnAndRow(from), this.between(from, to)];
    const count = this.stepsApart(from, to);
    let over = 0;
    for (let step = 1; step < count; step += 1) {
      const [column, row] = [x + (right * step) / count, y + (down * step) / count];
      const zone = this.owners[Math.round(column) + Math.round(row) * this.wide];
      if (zone && zone !== this.owners[from]) over += 1;
    }
    return over;
  }

  /** Two sweeps over the points, each asking the neighbours that the sweep has passed. */
  private measured(): number[] {
    const rooms = this.owners.map(() => Number.POSITIVE_INFINITY);
    const passed = [-1, -this.wide - 1, -this.wide, -this.wide + 1];
    const cells = [...rooms.keys()];
    for (const [order, way] of [
      [cells, 1],
      [cells.toReversed(), -1],
    ] as const)
      for (const cell of order) {
        const column = cell % this.wide;
        const isAtSide = column === 0 || column === this.wide - 1;
        for (const step of passed) {
          const near = cell + way * step;
          const goesOn = !isAtSide && this.owners[near] === this.owners[cell];
          rooms[cell] = Math.min(rooms[cell] ?? 0, goesOn ? (rooms[near] ?? 0) + 1 : 1);
        }
      }
    return rooms;
  }
}
