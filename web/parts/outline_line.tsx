/** The line from a mark that stands beside the thing to the zone it speaks of, with a dot where it ends. */

import type { Mark } from "./outline_marks.ts";

/** The dot's radius in the drawing's units. */
const DOT = 4;

export function LineTo({ mark: { x, y, to } }: { mark: Mark }) {
  if (!to) return null;
  return (
    <g class="line-to">
      <path d={`M${x} ${y}L${to[0]} ${to[1]}`} />
      <circle cx={to[0]} cy={to[1]} r={DOT} />
    </g>
  );
}
