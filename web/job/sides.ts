/** Whose left: the sides a plan's frame allows, never a bare "left". */
import type { Plan } from "./types.ts";

const SIDES: Record<Plan["frame"], string[]> = {
  proper: ["proper-right", "proper-left"],
  viewer: ["viewers-left", "viewers-right", "upper", "lower"],
  own: ["head", "tail", "fore-edge", "bass-side", "treble-side"],
};
const CLOCK = Array.from({ length: 12 }, (_, hour) => `clock-${hour + 1}`);
const MIRRORED: Record<string, string> = {
  "proper-right": "proper-left",
  "proper-left": "proper-right",
  "viewers-left": "viewers-right",
  "viewers-right": "viewers-left",
  "bass-side": "treble-side",
  "treble-side": "bass-side",
};

/** The sides that may be named on a zone of this plan; clock positions where things are round or have a dial. */
export function sidesOf(plan: Plan) {
  return [...SIDES[plan.frame], "centre", ...(/clock/i.test(plan.frame_note) ? CLOCK : [])];
}

/** The same place on the other side; null if there is none. */
export function mirrored(side: string | null): string | null {
  return MIRRORED[side ?? ""] ?? null;
}
