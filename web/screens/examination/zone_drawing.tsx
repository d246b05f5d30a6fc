/** Where the zone in hand is: the drawing of the thing, and its sides with what is left on each. */

import { useState } from "preact/hooks";
import { outlinesOf } from "../../job/outlines_of.ts";
import type { Step } from "../../job/progress.ts";
import type { Outline } from "../../job/types.ts";
import { Drawing } from "../../parts/outline.tsx";
import type { ZoneGiven } from "./zone.tsx";

/** How many zones that nobody spoke of a side shows; one that several sides show counts where it is shown first. */
export function leftOnSides(drawings: readonly Outline[], steps: readonly Step[]): number[] {
  const open = new Set(steps.filter(({ state }) => !state).map(({ key }) => key));
  return drawings.map(({ shapes }) => {
    const here = shapes.filter(({ zone }) => zone && open.delete(zone));
    return here.length;
  });
}

export function WhereOnIt({ item, plan, book, steps, step, go }: ZoneGiven) {
  const [picked, setPicked] = useState({ of: "", side: "" }); // a side that was opened holds for this zone alone
  const drawings = outlinesOf(book, plan, item);
  const holds = ({ shapes }: Outline) => shapes.some(({ zone }) => zone === step.key);
  const opened = picked.of === step.key && drawings.find(({ outline }) => outline === picked.side);
  const shown = opened || drawings.find(holds) || drawings[0];
  if (!shown) return null;
  const left = leftOnSides(drawings, steps);
  return (
    <div class="where-on-it">
      <Drawing
        drawing={shown}
        steps={steps}
        chosen={step.key}
        choose={(key) => go(steps.find((step) => step.key === key))}
      />
      {drawings.length > 1 && (
        <fieldset class="sides-of-it">
          <legend class="unseen">Sides</legend>
          {drawings.map((side, index) => (
            <button
              type="button"
              key={side.outline}
              class="key"
              aria-pressed={side === shown}
              onClick={() => setPicked({ of: step.key, side: side.outline })}
            >
              {side.words.split(",")[0]}
              <small>{left[index] ? `${left[index]} left` : "done"}</small>
            </button>
          ))}
        </fieldset>
      )}
    </div>
  );
}
