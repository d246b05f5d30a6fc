/** The outline of a class, its zones told apart by mark, pattern and word; a touch names the zone. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { neverHadIt, type Step, zoneName } from "../job/progress.ts";
import type { Outline as OutlineData, Shape } from "../job/types.ts";
import { HAS_NONE, STATE_WORDS } from "../job/words.ts";
import { useNextFrame } from "./below.tsx";
import { MARK_PX, unitsInPixel } from "./outline_grid.ts";
import { LineTo } from "./outline_line.tsx";
import { marksOf } from "./outline_marks.ts";
import { useOwnId } from "./own_id.ts";
import { ZoneLines, ZoneSign } from "./sign.tsx";

type TouchEventOn = JSX.TargetedMouseEvent<SVGSVGElement>;

/** What the marks mean: what was said of a zone, as what it is drawn, and its words. */
const LEGEND = [
  ["untouched", "untouched", "Not looked at"],
  ["clear", "clear", STATE_WORDS.clear],
  ["finding", "finding", STATE_WORDS.finding],
  ["not-examined", "not-examined", STATE_WORDS["not-examined"]],
  ["none", "not-examined", HAS_NONE],
] as const;

/** How near a touch must be to a region that is smaller than a finger, in the drawing's units. */
const REACH = 14;

/** `chosen` is the zone that is looked at; `all` draws every view side by side. */
export function Outline({
  drawings,
  steps,
  chosen,
  choose,
  all = false,
}: {
  drawings: OutlineData[];
  steps: Step[];
  chosen?: string;
  choose?: (key: string) => void;
  all?: boolean;
}) {
  const holds = (drawing: OutlineData) => drawing.shapes.some(({ zone }) => zone === chosen);
  const [view, setView] = useState("");
  const shown = drawings.find((outline) => outline.outline === view) ?? drawings.find(holds) ?? drawings[0];
  if (!shown) return null;
  // Of zones that the thing never had nobody reads that they were neglected.
  const used = new Set<string>(
    steps.map(({ state }) => (neverHadIt(state) ? "none" : (state?.state ?? "untouched"))),
  );
  return (
    <figure class="outlines">
      {!all && drawings.length > 1 && (
        <div class="chips" role="group" aria-label="View">
          {drawings.map((outline) => (
            <button
              type="button"
              key={outline.outline}
              class="chip"
              aria-pressed={outline === shown}
              onClick={() => setView(outline.outline)}
            >
              {outline.words.split(",")[0]}
            </button>
          ))}
        </div>
      )}
      <div class="drawings">
        {(all ? drawings : [shown]).map((outline) => (
          <Drawing key={outline.outline} drawing={outline} steps={steps} chosen={chosen} choose={choose} />
        ))}
      </div>
      <figcaption>
        {LEGEND.filter(([state]) => used.has(state)).map(([state, drawn, words]) => (
          <span key={state} class={`state ${drawn}`}>
            <ZoneSign state={drawn} /> {words}
          </span>
        ))}
      </figcaption>
    </figure>
  );
}

/** A sign is drawn in so many units. */
const SIGN = 20;

/** One drawing of a thing with what was said of its zones. */
export function Drawing({
  drawing,
  steps,
  chosen,
  choose,
}: {
  drawing: OutlineData;
  steps: Step[];
  chosen?: string;
  choose?: (key: string) => void;
}) {
  const title = useOwnId();
  const isPainted = useNextFrame();
  const wide = MARK_PX * unitsInPixel(drawing);
  const saidOf = (key: string) => steps.find((step) => step.key === key)?.state;
  const stateOf = (key: string) => saidOf(key)?.state ?? "untouched";
  const touch = (event: TouchEventOn) => {
    const key = zoneAt(event);
    if (key && choose) choose(key);
  };
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the list of zones beside the drawing has a link for each
    <svg
      class={choose ? "outline touchable" : "outline"}
      viewBox={`0 0 ${drawing.width} ${drawing.height}`}
      role="img"
      aria-labelledby={title}
      onClick={touch}
    >
      <title id={title}>{drawing.words}</title>
      {drawing.shapes.map((shape, index) => (
        <DrawnShape
          key={index}
          shape={shape}
          id={shape.zone ? `${title}-${shape.zone}` : undefined}
          state={shape.zone ? stateOf(shape.zone) : ""}
          words={shape.zone && neverHadIt(saidOf(shape.zone)) ? HAS_NONE : ""}
          chosen={shape.zone === chosen}
          named={isPainted}
        />
      ))}
      {marksOf(drawing, stateOf).map((mark) => (
        <g key={mark.zone} class="state-mark">
          <LineTo mark={mark} />
          <g transform={`translate(${mark.x - wide / 2} ${mark.y - wide / 2}) scale(${wide / SIGN})`}>
            <ZoneLines state={mark.state} />
          </g>
        </g>
      ))}
    </svg>
  );
}

/** One shape as the plan's data has it; a region of a zone tells its state, and its name to who points at it. */
function DrawnShape({
  shape,
  id,
  state,
  words,
  chosen,
  named,
}: {
  shape: Shape;
  id?: string;
  state: string;
  /** What is said of it in place of its state; "" for nothing else. */
  words: string;
  chosen: boolean;
  named: boolean;
}) {
  const Element = shape.shape;
  if (!shape.zone) return <Element {...shape.attributes} class="helping" />;
  return (
    <Element
      {...shape.attributes}
      id={id}
      data-zone={shape.zone}
      class={`region ${state}${chosen ? " chosen" : ""}`}
    >
      {named && (
        <title>
          {zoneName(shape.zone)}: {words || (STATE_WORDS[state] ?? "not looked at")}
        </title>
      )}
    </Element>
  );
}

/** The region under a touch, or the nearest one within reach: some are smaller than a finger. */
function zoneAt(event: TouchEventOn): string | null {
  const direct = event.target instanceof Element ? event.target.closest("[data-zone]") : null;
  if (direct) return direct.getAttribute("data-zone");
  const svg = event.currentTarget;
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  const near: [number, string | null][] = [...svg.querySelectorAll("[data-zone]")].map((region) => {
    const box = region.getBoundingClientRect();
    const away = Math.hypot(
      Math.max(box.left - event.clientX, 0, event.clientX - box.right),
      Math.max(box.top - event.clientY, 0, event.clientY - box.bottom),
    );
    return [away, region.getAttribute("data-zone")];
  });
  const [nearest] = near.sort(([a], [b]) => a - b);
  return nearest && nearest[0] <= REACH * scale ? nearest[1] : null;
}
