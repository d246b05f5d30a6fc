/** A field to sign in with a finger or a pen: the strokes as one path, on 600 by 200. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { useOwnId } from "./own_id.ts";

const WIDE = 600;
const HIGH = 200;
/** As long a path as the office takes; a signature has a tenth of it. */
const LONGEST = 20_000;

type PenEvent = JSX.TargetedPointerEvent<SVGSVGElement>;

type SignatureFieldOf = { strokes: string; draw: (strokes: string) => void; label: string };

/** The line follows the pen; `draw` is told of it when the pen is lifted. */
export function SignatureField({ strokes, draw, label }: SignatureFieldOf) {
  const title = useOwnId();
  const [line, setLine] = useState(""); // the stroke that is being drawn
  const add = (event: PenEvent, step: "M" | "L") => {
    const next = line + step + pointOf(event);
    if (strokes.length + next.length <= LONGEST) setLine(next);
  };
  const down = (event: PenEvent) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    add(event, "M");
  };
  const move = (event: PenEvent) =>
    line && event.currentTarget.hasPointerCapture(event.pointerId) && add(event, "L");
  const lift = () => {
    if (line) draw(strokes + line);
    setLine("");
  };
  return (
    <div class="field">
      <span class="label">{label}</span>
      <svg
        class="signature"
        viewBox="0 0 600 200"
        role="img"
        aria-labelledby={title}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={lift}
        onPointerCancel={lift}
      >
        <title id={title}>{label}</title>
        <path d="M30 160H570" class="helping" />
        <path d={strokes + line} />
      </svg>
      <p>
        <button type="button" class="quiet" disabled={!strokes} onClick={() => draw("")}>
          Draw it anew
        </button>
      </p>
    </div>
  );
}

/** Where the pen is, on the field's own 600 by 200. */
function pointOf(event: PenEvent) {
  const box = event.currentTarget.getBoundingClientRect();
  const within = (at: number, size: number, most: number) =>
    Math.min(most, Math.max(0, Math.round((at / size) * most)));
  return `${within(event.clientX - box.left, box.width, WIDE)} ${within(event.clientY - box.top, box.height, HIGH)}`;
}

export function SignatureDrawn({ strokes, words }: { strokes: string; words: string }) {
  return (
    <svg class="signature drawn" viewBox="0 0 600 200" role="img" aria-label={words}>
      <path d={strokes} />
    </svg>
  );
}
