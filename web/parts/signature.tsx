/** A field to sign in with a finger or a pen: the strokes as one path, on 600 by 200. */
import type { JSX } from "preact";
import { useId, useRef } from "preact/hooks";

const WIDE = 600;
const HIGH = 200;
/** As long a path as the office takes; a signature has a tenth of it. */
const LONGEST = 20_000;

type PenEvent = JSX.TargetedPointerEvent<SVGSVGElement>;

export function SignatureField({
  strokes,
  draw,
  label,
}: {
  strokes: string;
  draw: (strokes: string) => void;
  label: string;
}) {
  const title = useId();
  const path = useRef(strokes);
  path.current = strokes;
  const add = (event: PenEvent, step: string) => {
    const box = event.currentTarget.getBoundingClientRect();
    const at = (place: number, size: number, most: number) =>
      Math.min(most, Math.max(0, Math.round((place / size) * most)));
    const next = `${path.current}${step}${at(event.clientX - box.left, box.width, WIDE)} ${at(event.clientY - box.top, box.height, HIGH)}`;
    if (next.length > LONGEST) return;
    path.current = next;
    draw(next);
  };
  const down = (event: PenEvent) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    add(event, "M");
  };
  const move = (event: PenEvent) => event.currentTarget.hasPointerCapture(event.pointerId) && add(event, "L");
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
      >
        <title id={title}>{label}</title>
        <path d="M30 160H570" class="helping" />
        <path d={strokes} />
      </svg>
      <p>
        <button type="button" class="quiet" disabled={!strokes} onClick={() => draw("")}>
          Draw it anew
        </button>
      </p>
    </div>
  );
}

export function SignatureDrawn({ strokes, words }: { strokes: string; words: string }) {
  return (
    <svg class="signature drawn" viewBox="0 0 600 200" role="img" aria-label={words}>
      <path d={strokes} />
    </svg>
  );
}
