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
 * There are ten thousand, and a walk waits for them: they are gone through by counting, and nothing is made for one.
 */
export class Grid {
  private readonly step: number;
  private readonly wide: number;
  private readonly owners: (string | null)[];
  private readonly rooms: Int32Array;

  constructor(drawing: Drawing) {
    this.step = STEP_PX * unitsInPixel(drawing);
    this.wide = Math.floor(drawing.width / this.step);
    const high = Math.floor(drawing.height / this.step);
    this.owners = new Array<string | null>(this.wide * high).fill(null);
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
    const best = new Map<string, { cell: number; room: number; away: number }>();
    const middles = this.middles();
    for (let cell = 0; cell < this.owners.length; cell += 1) {
      const zone = this.owners[cell];
      const middle = zone && middles.get(zone);
      if (!middle) continue;
      const [room, held] = [Math.min(this.room(cell), PLENTY), best.get(zone)];
      if (held && room < held.room) continue;
      const away = Math.hypot(this.column(cell) - middle.column, this.row(cell) - middle.row);
      if (!held || room > held.room || away < held.away) best.set(zone, { cell, room, away });
    }
    return new Map([...best].map(([zone, { cell }]) => [zone, cell]));
  }

  /** The middle of what shows of each zone, in columns and rows. */
  private middles(): Map<string, { column: number; row: number }> {
    const sums = new Map<string, { column: number; row: number; count: number }>();
    for (let cell = 0; cell < this.owners.length; cell += 1) {
      const zone = this.owners[cell];
      if (!zone) continue;
      const sum = sums.get(zone) ?? { column: 0, row: 0, count: 0 };
      sums.set(zone, sum);
      sum.column += this.column(cell);
      sum.row += this.row(cell);
      sum.count += 1;
    }
    for (const sum of sums.values()) {
      sum.column /= sum.count;
      sum.row /= sum.count;
    }
    return sums;
  }

  /**
   * The nearest free point beside the thing, away from those taken, with as little as may be between it and the zone.
   */
  besideTheThing(from: number, taken: readonly number[]): { cell: number; way: number } | undefined {
    let best: { cell: number; way: number } | undefined;
    for (let cell = 0; cell < this.owners.length; cell += 1) {
      if (this.owners[cell] || this.room(cell) < REACH) continue;
      const least = best?.way ?? Number.POSITIVE_INFINITY;
      const steps = this.steps(from, cell);
      if (steps >= least || !this.isFree(cell, taken)) continue;
      const way = steps + OVER_ANOTHER * this.stepsOverOthers(from, cell, (least - steps) / OVER_ANOTHER);
      if (way < least) best = { cell, way };
    }
    return best;
  }

  /** The free point of a zone that is farthest from all that is not of it. */
  widestOf(zone: string, taken: readonly number[]): number | undefined {
    let best: number | undefined;
    for (let cell = 0; cell < this.owners.length; cell += 1) {
      if (this.owners[cell] !== zone || this.room(cell) <= this.room(best ?? -1)) continue;
      if (this.isOnPaper(cell) && this.isFree(cell, taken)) best = cell;
    }
    return best;
  }

  /** Whether a mark there is drawn whole. */
  private isOnPaper(cell: number): boolean {
    const [column, row, high] = [this.column(cell), this.row(cell), this.owners.length / this.wide];
    const [right, down] = [this.wide - 1 - column, high - 1 - row];
    return Math.min(column, row, right, down) >= REACH - 1;
  }

  /** Whether a mark there stands apart from those that have their place. */
  isFree(cell: number, taken: readonly number[]): boolean {
    return taken.every((other) => this.stepsApart(cell, other) >= 2 * REACH);
  }

  private column(cell: number): number {
    return cell % this.wide;
  }

  private row(cell: number): number {
    return Math.floor(cell / this.wide);
  }

  private steps(a: number, b: number): number {
    return Math.hypot(this.column(b) - this.column(a), this.row(b) - this.row(a));
  }

  private stepsApart(a: number, b: number): number {
    return Math.max(Math.abs(this.column(b) - this.column(a)), Math.abs(this.row(b) - this.row(a)));
  }

  /** How many steps of a line lie over zones that it does not speak of, counted no further than `enough`. */
  private stepsOverOthers(from: number, to: number, enough: number): number {
    const [column, row] = [this.column(from), this.row(from)];
    const [right, down] = [this.column(to) - column, this.row(to) - row];
    const count = this.stepsApart(from, to);
    let over = 0;
    for (let step = 1; step < count && over < enough; step += 1) {
      const [x, y] = [Math.round(column + (right * step) / count), Math.round(row + (down * step) / count)];
      const zone = this.owners[x + y * this.wide];
      if (zone && zone !== this.owners[from]) over += 1;
    }
    return over;
  }

  /** Two sweeps over the points, each asking the neighbours that the sweep has passed. */
  private measured(): Int32Array {
    const last = this.owners.length - 1;
    const rooms = new Int32Array(last + 1).fill(last);
    for (let cell = 0; cell <= last; cell += 1) rooms[cell] = this.roomAt(cell, rooms, -1);
    for (let cell = last; cell >= 0; cell -= 1) rooms[cell] = this.roomAt(cell, rooms, 1);
    return rooms;
  }

  /** By what the sweep has found `beside` a point and at three points over or under it. */
  private roomAt(cell: number, rooms: Int32Array, beside: -1 | 1): number {
    const column = this.column(cell);
    if (column === 0 || column === this.wide - 1) return 1;
    const level = cell + beside * this.wide;
    const least = Math.min(rooms[cell] ?? 0, this.oneMore(cell, rooms, cell + beside));
    const over = Math.min(this.oneMore(cell, rooms, level - 1), this.oneMore(cell, rooms, level));
    return Math.min(least, over, this.oneMore(cell, rooms, level + 1));
  }

  private oneMore(cell: number, rooms: Int32Array, near: number): number {
    return this.owners[near] === this.owners[cell] ? (rooms[near] ?? 0) + 1 : 1;
  }
}
