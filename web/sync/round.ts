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

/** What the office says of itself with every answer. */
export type Says = { office: OfficeStanding };

/** An address with what this device was told last, and that. */
export function knowing(path: string): [path: string, asked: Asked] {
  const asked = toldLast();
  const entries = Object.entries(asked).filter(([, value]) => value !== "");
  const added = new URLSearchParams(entries.map(([name, value]) => [name, String(value)]));
  return [`${path}${path.includes("?") ? "&" : "?"}${added}`, asked];
}

/** What this device adds to its clock from now on; not if it is off by no more than an answer may take to come. */
export async function rememberClock(officeTime: string, taken_ms = 2000) {
  const offset = Date.parse(officeTime) - Date.now();
  const known = device.peek();
  if (known && Math.abs(offset - known.clock_offset_ms) > taken_ms)
    await rememberDevice({ clock_offset_ms: offset });
}

/** Hear where the office stands; true if it has lost something, which asks for one more round. */
export async function hear({ office }: Says, asked: Asked) {
  const lost = await meet(office, asked);
  round.again ||= lost;
  return lost;
}
