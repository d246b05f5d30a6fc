/**
 * What shows a fault that was seen as a thing was unpacked, where nobody recorded a light: it is none of the lights by
 * which the thing was examined, and stands in no list of these.
 */
import type { Light } from "./types.ts";

export const AS_UNPACKED = "as-unpacked";

const WORDS = "as it was unpacked";
export const UNPACKED: Light = {
  light: AS_UNPACKED,
  words: WORDS,
  sense: "sight",
  how: WORDS,
  tool: WORDS,
  named: "never",
};
