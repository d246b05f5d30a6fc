/** Which pieces of a thing were left behind as one of them was scanned. */

import type { Where } from "./custody.ts";
import type { Place } from "./fields.ts";

/** The way of a thing; what went ahead to where the scanned one goes, or lies packed beside it, is not left behind. */
const WAY: readonly Place[] = ["table", "bench", "holding", "van", "store", "shelf"];

export function isBehind(other: Where, here: Where) {
  const [from, to] = [WAY.indexOf(other.place), WAY.indexOf(here.place)];
  if (from < 0 || to < 0) return other.place !== here.place;
  return from < to || (from === to && here.inside.length > 0 && !other.inside.length);
}
