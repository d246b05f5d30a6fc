/** Whose left: the sides a plan's frame allows, never a bare "left". */

/** @import { Plan } from "./types.js" */

/** @type {Record<Plan["frame"], string[]>} */
const SIDES = {
  proper: ["proper-right", "proper-left"],
  viewer: ["viewers-left", "viewers-right", "upper", "lower"],
  own: ["head", "tail", "fore-edge", "bass-side", "treble-side"],
};
const CLOCK = Array.from({ length: 12 }, (_, hour) => `clock-${hour + 1}`);
/** @type {Record<string, string>} */
const MIRRORED = {
  "proper-right": "proper-left", "proper-left": "proper-right", "viewers-left": "viewers-right", "viewers-right": "viewers-left",
  "bass-side": "treble-side", "treble-side": "bass-side",
};

/** The sides that may be named on a zone of this plan; clock positions where things are round or have a dial. @param {Plan} plan */
export function sidesOf(plan) {
  return [...SIDES[plan.frame], "centre", ...(/clock/i.test(plan.frame_note) ? CLOCK : [])];
}

/** The same place on the other side; null if there is none. @param {string|null} side @returns {string|null} */
export function mirrored(side) {
  return MIRRORED[side ?? ""] ?? null;
}
