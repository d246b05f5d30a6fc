/** The round that is under way: what its steps find out for each other, and how each hears where the office stands. */
import type { OfficeStanding } from "../job/types.ts";
import { rememberDevice } from "../local/device.ts";
import { type Asked, meet, toldLast } from "../local/keeping.ts";
import { device } from "../local/memory.ts";

export const round = {
  /** One more is to follow: somebody asked for it meanwhile, or the office has lost something. */
  again: false,
  /** The office's clock, as it was last heard in this round; empty before. */
  officeTime: "",
};

/**
 * How a full phone, which can store nothing, hears the office all the same, and that it was taken off it: that comes
 * with the words' pack, and is null until that is loaded.
 */
type WhenFull = { hear: (() => Promise<void>) | null; takenOff: ((isKept: boolean) => Promise<void>) | null };
export const whenFull: WhenFull = { hear: null, takenOff: null };

/** What the office says of itself with every answer. */
export type Says = { office: OfficeStanding };

/** An address with what this device was told last, and that. */
export function knowing(path: string): [path: string, asked: Asked] {
  const asked = toldLast();
  const entries = Object.entries(asked).filter(([, value]) => value !== "");
  const added = new URLSearchParams(entries.map(([name, value]) => [name, String(value)]));
  return [`${path}${path.includes("?") ? "&" : "?"}${added}`, asked];
}

/** An answer has come by then, as a rule: a clock that is off by no more is left as it is. */
const TAKEN_MS = 2000;

/** What this device adds to its clock from now on. */
export async function rememberClock(officeTime: string) {
  if (Math.abs(behind(officeTime)) > TAKEN_MS)
    await rememberDevice({ clock_offset_ms: Date.parse(officeTime) - Date.now() });
}

/** How many ms this device's clock, as put right, stands behind the office's; 0 of a device that is not paired. */
export function behind(officeTime: string) {
  const known = device.peek();
  return known ? Date.parse(officeTime) - Date.now() - known.clock_offset_ms : 0;
}

/** Hear where the office stands; true if it has lost something, which asks for one more round. */
export async function hear({ office }: Says, asked: Asked) {
  const lost = await meet(office, asked);
  round.again ||= lost;
  return lost;
}
