/** The outline of a class, its zones told apart by mark, pattern and word; a touch names the zone. */
import { useId, useState } from "preact/hooks";
import { zoneName } from "../job/progress.js";
import { STATE_MARKS, STATE_WORDS } from "../job/words.js";
import { html } from "./html.js";

/** @import { walk } from "../job/progress.js" */
/** @import { Outline as Drawing, Shape } from "../job/types.js" */
/** @typedef {ReturnType<typeof walk>[number]} Step */

/** How near a touch must be to a region that is smaller than a finger, in the drawing's units. */
const REACH = 14;
const MARK_APART = 13;

/**
 * @param {{drawings: Drawing[], steps: Step[], chosen?: string, choose?: (key: string) => void, all?: boolean}} given
 *   `chosen` is the zone that is looked at; `all` draws every view side by side.
 */
export function Outline({ drawings, steps, chosen, choose, all = false }) {
  const holds = (/** @type {Drawing} */ drawing) => drawing.shapes.some(({ zone }) => zone === chosen);
  const [view, setView] = useState("");
  const shown = drawings.find((one) => one.outline === view) ?? drawings.find(holds) ?? drawings[0];
  if (!shown) return null;
  const used = new Set(steps.map((step) => step.state?.state ?? "untouched"));
  return html`<figure class="outlines">
    ${!all && drawings.length > 1 && html`<div class="chips" role="group" aria-label="View">${drawings.map((one) => html`<button type="button" key=${one.outline} class="chip" aria-pressed=${one === shown} onClick=${() => setView(one.outline)}>${one.words.split(",")[0]}</button>`)}</div>`}
    <div class="drawings">${(all ? drawings : [shown]).map((one) => html`<${View} key=${one.outline} drawing=${one} steps=${steps} chosen=${chosen} choose=${choose} />`)}</div>
    <figcaption>${["untouched", "clear", "finding", "not-examined"].filter((state) => used.has(state)).map((state) => html`<span key=${state} class=${`state ${state}`}><span class="mark" aria-hidden="true">${STATE_MARKS[state]}</span> ${STATE_WORDS[state] ?? "Not looked at"}</span>`)}</figcaption>
  </figure>`;
}

/** @param {{drawing: Drawing, steps: Step[], chosen?: string, choose?: (key: string) => void}} given */
function View({ drawing, steps, chosen, choose }) {
  const title = useId();
  const stateOf = (/** @type {string} */ key) => steps.find((step) => step.key === key)?.state?.state ?? "untouched";
  const touch = (/** @type {any} */ event) => {
    const key = zoneAt(event);
    if (key && choose) choose(key);
  };
  return html`<svg class=${choose ? "outline touchable" : "outline"} viewBox=${`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-labelledby=${title} onClick=${touch}>
    <title id=${title}>${drawing.words}</title>
    ${drawing.shapes.map((shape, place) => html`<${shape.shape} key=${place} ...${shape.attributes} id=${shape.zone ? `${title}-${shape.zone}` : undefined} data-zone=${shape.zone ?? undefined}
      class=${shape.zone ? `region ${stateOf(shape.zone)}${shape.zone === chosen ? " chosen" : ""}` : "helping"}>${shape.zone && html`<title>${zoneName(shape.zone)}: ${STATE_WORDS[stateOf(shape.zone)] ?? "not looked at"}</title>`}<//>`)}
    ${marksOf(drawing, stateOf).map(({ zone, state, x, y }) => html`<text key=${zone} x=${x} y=${y} class="state-mark" aria-hidden="true">${STATE_MARKS[state]}</text>`)}
  </svg>`;
}

/**
 * Where the marks stand. Regions lie inside each other, so a mark that would cover another is left out, findings first:
 * the region's line tells its state as well.
 * @param {Drawing} drawing @param {(key: string) => string} stateOf
 */
function marksOf(drawing, stateOf) {
  const order = ["finding", "not-examined", "clear"];
  /** @type {{zone: string, state: string, x: number, y: number}[]} */
  const placed = [];
  const wanted = drawing.shapes.flatMap((shape) => (shape.zone && stateOf(shape.zone) !== "untouched" ? [{ shape, zone: shape.zone, state: stateOf(shape.zone) }] : []));
  for (const { shape, zone, state } of wanted.sort((one, other) => order.indexOf(one.state) - order.indexOf(other.state))) {
    const [x, y] = centreOf(shape);
    if (placed.every((mark) => Math.hypot(mark.x - x, mark.y - y) >= MARK_APART)) placed.push({ zone, state, x, y });
  }
  return placed;
}

/** The region under a touch, or the nearest one within reach: some are smaller than a finger. @param {PointerEvent} event @returns {string|null} */
function zoneAt(event) {
  const direct = event.target instanceof Element ? event.target.closest("[data-zone]") : null;
  if (direct) return direct.getAttribute("data-zone");
  const svg = /** @type {SVGSVGElement} */ (event.currentTarget);
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  /** @type {[number, string|null][]} */
  const near = [...svg.querySelectorAll("[data-zone]")].map((region) => {
    const box = region.getBoundingClientRect();
    const away = Math.hypot(Math.max(box.left - event.clientX, 0, event.clientX - box.right), Math.max(box.top - event.clientY, 0, event.clientY - box.bottom));
    return [away, region.getAttribute("data-zone")];
  });
  const [nearest] = near.sort(([one], [other]) => one - other);
  return nearest && nearest[0] <= REACH * scale ? nearest[1] : null;
}

/** The middle of a shape by the numbers it is drawn with. @param {Shape} shape @returns {[number, number]} */
function centreOf({ shape, attributes }) {
  const number = (/** @type {string} */ name) => Number(attributes[name] ?? 0);
  if (shape === "circle" || shape === "ellipse") return [number("cx"), number("cy")];
  if (shape === "rect") return [number("x") + number("width") / 2, number("y") + number("height") / 2];
  const points = pointsOf(attributes["d"] ?? attributes["points"] ?? "");
  const middle = (/** @type {number[]} */ all) => (Math.min(...all) + Math.max(...all)) / 2;
  return points.length ? [middle(points.map(([x]) => x)), middle(points.map(([, y]) => y))] : [0, 0];
}

/** The points of absolute path commands; control points count too, which is near enough for a mark. @param {string} path @returns {[number, number][]} */
function pointsOf(path) {
  /** @type {[number, number][]} */
  const points = [];
  let [x, y] = [0, 0];
  for (const [, letter = "L", tail = ""] of path.matchAll(/([A-Z])?([^A-Z]+)/g)) {
    const numbers = tail.trim().split(/[\s,]+/).filter(Boolean).map(Number);
    if (letter === "H") points.push(...numbers.map((one) => /** @type {[number, number]} */ ([(x = one), y])));
    else if (letter === "V") points.push(...numbers.map((one) => /** @type {[number, number]} */ ([x, (y = one)])));
    else {
      const size = letter === "A" ? 7 : 2;
      for (let at = 0; at + size <= numbers.length; at += size) {
        [x, y] = [/** @type {number} */ (numbers[at + size - 2]), /** @type {number} */ (numbers[at + size - 1])];
        points.push([x, y]);
      }
    }
  }
  return points;
}
