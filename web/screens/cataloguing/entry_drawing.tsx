/** The drawing of the class with the numbers of the findings; the finding in hand is the one that is lit. */

import { useState } from "preact/hooks";
import { marksByZone } from "../../job/marks_on.ts";
import { walk, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Outline, Plan, Shape } from "../../job/types.ts";
import { groupedBy } from "../../job/values.ts";
import { LineTo } from "../../parts/outline_line.tsx";
import { marksOf } from "../../parts/outline_marks.ts";
import { useOnPaper } from "../../parts/print.ts";
import { ZoneLines } from "../../parts/sign.tsx";
import type { Numbered } from "./entry_findings.tsx";
import { usePlaced } from "./placed_ahead.ts";

type DrawingOf = {
  item: ItemRecord;
  plan: Plan;
  drawings: Outline[];
  findings: Numbered[];
  chosen: number;
  choose: (number: number) => void;
};

export function NumberedDrawing({ item, plan, drawings, findings, chosen, choose }: DrawingOf) {
  const [view, setView] = useState("");
  const zone = findings.find(({ number }) => number === chosen)?.value.zone;
  const shows = (outline: Outline) => outline.shapes.some((shape) => shape.zone === zone);
  const held = drawings.find(({ outline }) => outline === view);
  const shown = (held && (!zone || shows(held)) ? held : drawings.find(shows)) ?? held ?? drawings[0];
  const isPlaced = usePlaced(shown);
  const isOnPaper = useOnPaper();
  if (!shown) return null;
  const states = new Map(walk(plan, item).map((step) => [step.key, step.state?.state ?? "untouched"]));
  const marks = marksByZone(plan, item);
  const nameOf = (key: string) => (marks.has(key) ? `${zoneName(key)}: mark copied` : zoneName(key));
  const stateOf = (key: string) => states.get(key) ?? "untouched";
  const touch = ({ target }: Event) => {
    const number = target instanceof Element && target.closest("[data-number]")?.getAttribute("data-number");
    if (number) choose(Number(number));
  };
  return (
    <figure class="numbered">
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the list beside it has a button for each number, and a key */}
      <svg
        onClick={touch}
        class="outline"
        viewBox={`0 0 ${shown.width} ${shown.height}`}
        role="img"
        aria-label={shown.words}
      >
        <Regions drawing={shown} zone={zone} stateOf={stateOf} nameOf={nameOf} />
        {isPlaced && <States drawing={shown} stateOf={stateOf} />}
        {isPlaced && <Numbers drawing={shown} findings={findings} chosen={chosen} />}
      </svg>
      {isOnPaper &&
        drawings.map((drawing) =>
          drawing === shown ? null : (
            <svg
              key={drawing.outline}
              class="outline print-only"
              viewBox={`0 0 ${drawing.width} ${drawing.height}`}
              role="img"
              aria-label={drawing.words}
            >
              <Regions drawing={drawing} zone={zone} stateOf={stateOf} nameOf={nameOf} />
              <States drawing={drawing} stateOf={stateOf} />
              <Numbers drawing={drawing} findings={findings} chosen={chosen} />
            </svg>
          ),
        )}
      {drawings.length > 1 && (
        <div class="chips" role="group" aria-label="Side">
          {drawings.map((outline) => (
            <button
              type="button"
              key={outline.outline}
              class="key"
              aria-pressed={outline === shown}
              onClick={() => setView(outline.outline)}
            >
              {outline.words.split(",")[0]}
            </button>
          ))}
        </div>
      )}
    </figure>
  );
}

type StatesOf = { drawing: Outline; stateOf: (zone: string) => string };

type RegionsOf = StatesOf & { zone: string | undefined; nameOf: (zone: string) => string };

function Regions({ drawing, zone, stateOf, nameOf }: RegionsOf) {
  return drawing.shapes.map((shape, index) => (
    <Region
      key={index}
      shape={shape}
      state={shape.zone ? stateOf(shape.zone) : ""}
      name={shape.zone ? nameOf(shape.zone) : ""}
      isLit={shape.zone === zone}
    />
  ));
}

/** What was said of the zones on which nothing was found. */
function States({ drawing, stateOf }: StatesOf) {
  const marks = marksOf(drawing, (key) => (stateOf(key) === "finding" ? "untouched" : stateOf(key)));
  return marks.map((mark) => (
    <g key={mark.zone} class="state-mark">
      <LineTo mark={mark} />
      <g transform={`translate(${mark.x - 10} ${mark.y - 10})`}>
        {mark.state === "clear" ? <path d="M5 10l4 5 7-9" /> : <ZoneLines state={mark.state} />}
      </g>
    </g>
  ));
}

type RegionOf = { shape: Shape; state: string; name: string; isLit: boolean };

function Region({ shape, state, name, isLit }: RegionOf) {
  const Element = shape.shape;
  if (!shape.zone) return <Element {...shape.attributes} class="helping" />;
  return (
    <Element {...shape.attributes} class={`region ${state}${isLit ? " chosen" : ""}`}>
      <title>{name}</title>
    </Element>
  );
}

type NumbersOf = Pick<DrawingOf, "findings" | "chosen"> & { drawing: Outline };
/** In units of a drawing, of which the desk shows about two to three pixels: a number of 16 pixels can be read. */
const BOX = 25;
const APART = 23;

/** A number where the zone's mark stands; several of one zone stand side by side. */
function Numbers({ drawing, findings, chosen }: NumbersOf) {
  const byZone = groupedBy(findings, ({ value }) => value.zone);
  const places = marksOf(drawing, (key) => (byZone.has(key) ? "finding" : "untouched"));
  return places.map((mark) => {
    const numbers = (byZone.get(mark.zone) ?? []).map(({ number }) => number);
    const left = mark.x - (BOX + (numbers.length - 1) * APART) / 2;
    return (
      <g key={mark.zone}>
        <LineTo mark={mark} />
        {numbers.map((number, index) => (
          <g
            key={number}
            class={number === chosen ? "number chosen" : "number"}
            transform={`translate(${left + index * APART} ${mark.y - BOX / 2})`}
            data-number={number}
          >
            <rect width={BOX} height={BOX} rx="3" />
            <text x={BOX / 2} y={BOX - 6}>
              {number}
            </text>
          </g>
        ))}
      </g>
    );
  });
}
