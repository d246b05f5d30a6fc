/**
 * The edge of a thing as paths: its zones in the plan's order, one stretch each, whole where clear, nicked where found
 * and broken through where that is severe, dashes where not examined, a thread where nobody spoke.
 */

import type { ZoneSaid } from "../job/edge.ts";

export type EdgePaths = { spoken: string; skipped: string; thread: string; inHand: string };

/** Each stretch is so wide, and the strip so high. */
export const STRETCH = 10;
export const HIGH = 10;

/** The stretch in hand stands out so far above and below: behind one that is clear it would not be seen. */
const BEYOND = 3.5;

/** How deep a nick of each severity goes, and how far to each side of the middle it opens. */
const DEEP = [1.5, 3.5, 6, 8.5];
const OPEN = [1.5, 2.5, 3.2, 4];

/** `inHand` is the place of the zone that is in hand, in the same order; -1 if none is. */
export function edgePaths(zones: readonly ZoneSaid[], inHand = -1): EdgePaths {
  const paths: EdgePaths = { spoken: "", skipped: "", thread: "", inHand: "" };
  zones.forEach((zone, index) => {
    const from = index * STRETCH;
    if (zone === "untouched") paths.thread += line(from);
    else if (zone === "not-examined") paths.skipped += line(from);
    else paths.spoken += block(from, zone === "clear" ? null : zone);
  });
  const high = HIGH + 2 * BEYOND;
  if (inHand >= 0) paths.inHand = `M${inHand * STRETCH} -${BEYOND}h${STRETCH}v${high}h-${STRETCH}z`;
  return paths;
}

function line(from: number) {
  return `M${from} ${HIGH - 1}h${STRETCH}`;
}

function block(from: number, severity: number | null) {
  const to = from + STRETCH;
  const middle = from + STRETCH / 2;
  if (severity === null) return `M${from} 0H${to}V${HIGH}H${from}z`;
  if (severity >= 4)
    return `M${from} 0H${middle - 3}L${middle - 1} ${HIGH}H${from}zM${middle + 3} 0H${to}V${HIGH}H${middle + 1}z`;
  const open = OPEN[severity] ?? 0;
  return `M${from} 0H${middle - open}L${middle} ${DEEP[severity]}L${middle + open} 0H${to}V${HIGH}H${from}z`;
}
