/** A field to sign in with a finger or a pen: the strokes as one path, on 600 by 200. */
import { useRef } from "preact/hooks";
import { html } from "./html.js";

const WIDE = 600;
const HIGH = 200;
/** As long a path as the office takes; a signature has a tenth of it. */
const LONGEST = 20_000;

/** @param {{strokes: string, draw: (strokes: string) => void, label: string}} given */
export function SignatureField({ strokes, draw, label }) {
  const path = useRef(strokes);
  path.current = strokes;
  const add = (/** @type {any} */ event, /** @type {string} */ step) => {
    const box = event.currentTarget.getBoundingClientRect();
    const at = (/** @type {number} */ place, /** @type {number} */ size, /** @type {number} */ most) => Math.min(most, Math.max(0, Math.round((place / size) * most)));
    const next = `${path.current}${step}${at(event.clientX - box.left, box.width, WIDE)} ${at(event.clientY - box.top, box.height, HIGH)}`;
    if (next.length > LONGEST) return;
    path.current = next;
    draw(next);
  };
  const down = (/** @type {any} */ event) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    add(event, "M");
  };
  const move = (/** @type {any} */ event) => event.currentTarget.hasPointerCapture(event.pointerId) && add(event, "L");
  return html`<div class="field"><span class="label" id="signature">${label}</span>
    <svg class="signature" viewBox="0 0 600 200" role="img" aria-labelledby="signature" onPointerDown=${down} onPointerMove=${move}><path d="M30 160H570" class="helping" /><path d=${strokes} /></svg>
    <p><button type="button" class="quiet" disabled=${!strokes} onClick=${() => draw("")}>Draw it anew</button></p></div>`;
}

/** @param {{strokes: string, words: string}} given */
export function SignatureDrawn({ strokes, words }) {
  return html`<svg class="signature drawn" viewBox="0 0 600 200" role="img" aria-label=${words}><path d=${strokes} /></svg>`;
}
