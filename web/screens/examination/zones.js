/** The walk: every zone in the plan's order, what was said, what is left, and "rest clear" with its list. */
import { useState } from "preact/hooks";
import { walk, zoneName } from "../../job/progress.js";
import { keep } from "../../local/outbox.js";
import { Condition } from "../../parts/condition.js";
import { Choice } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { NextStep } from "../../parts/next_step.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { Outline } from "../../parts/outline.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";
import { StateMark } from "../../parts/zone_marks.js";
import { zoneAddress } from "./zone_steps.js";

/** @import { PlanBook } from "../../job/types.js" */
/** @typedef {ReturnType<typeof walk>[number]} Step */

/** @param {{item_id: string}} given */
export default function Zones({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [asking, setAsking] = useState(false);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book) return html`<${Frame} title="Zones" back=${back}><p>Reading …</p><//>`;
  if (!plan) return html`<${Frame} title="Zones" back=${back} action=${html`<a class="button main" href=${back}>Choose a class</a>`}><p class="lead">The class decides which zones are looked at.</p><//>`;
  if (plan.refer_only) return html`<${Frame} title="Zones" back=${back}><p class="lead">${plan.name} is referred, not examined at the table.</p><//>`;
  const steps = walk(plan, item);
  const left = steps.filter((step) => !step.state);
  const restable = left.filter((step) => !step.findings.length);
  const next = left[0];
  if (asking) return html`<${RestClear} item_id=${item_id} rest=${restable} book=${book} close=${() => setAsking(false)} />`;
  return html`<${Frame} title=${left.length ? `Zones: ${left.length} left of ${steps.length}` : `Zones: all ${steps.length} done`} back=${back} item=${item}
    action=${next
      ? html`${restable.length > 1 && html`<button type="button" onClick=${() => setAsking(true)}>Rest clear (${restable.length})</button>`}
          <a class="button main" href=${zoneAddress(item_id, next.key)}>${steps.length === left.length ? "Begin" : "Go on"}: ${zoneName(next.key)}</a>`
      : html`<${NextStep} item=${item} plan=${plan} here="/zones" />`}>
    <p class="frame-note">${plan.frame_note}</p>
    <${Outline} drawings=${book.outlines?.[plan.class_id] ?? []} steps=${steps} chosen=${next?.key} choose=${(/** @type {string} */ key) => { location.hash = zoneAddress(item_id, key); }} />
    <ol class="zones">
      ${steps.map((step) => html`<li key=${step.key} class=${step === next ? "next" : ""}>
        <a class="row" href=${zoneAddress(item_id, step.key)}>
          <span class="what">${zoneName(step.key)}
            <small>${step.findings.length ? step.findings.map(({ value }) => value.term.replaceAll("-", " ")).join(", ") : reasonWords(book, step) || step.zone.words}</small></span>
          <${StateMark} state=${step.state?.state} />
        </a>
      </li>`)}
    </ol>
    ${left.length < steps.length && html`<section><h2>Overall condition</h2><${Condition} plan=${plan} item=${item} /></section>`}
  <//>`;
}

/** @param {PlanBook} book @param {Step} step */
function reasonWords(book, step) {
  return book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words ?? step.state?.light?.replaceAll("-", " ") ?? "";
}

/** @param {{item_id: string, rest: Step[], book: PlanBook, close: () => void}} given */
function RestClear({ item_id, rest, book, close }) {
  const [light, setLight] = useState("");
  const clear = () => attempt(async () => {
    await keep("examine_rest", { item_id, zones: rest.map((step) => step.key), light });
    close();
    sayDone(`${rest.length} zones are clear.`);
  });
  return html`<${Frame} title="Rest clear" back=${`#/item/${item_id}`}
    action=${html`<button type="button" onClick=${close}>Not all of them</button>
      <button type="button" class="main" disabled=${!light} onClick=${clear}>${light ? `I looked at all ${rest.length}: clear` : "Say in which light first"}</button>`}>
    <p class="lead">This says that you looked at each of these and found nothing:</p>
    <ul class="covered">${rest.map((step) => html`<li key=${step.key}>${zoneName(step.key)}</li>`)}</ul>
    <${Choice} label="Looked at with" options=${book.words.lights.map((one) => [one.light, one.words])} value=${light} choose=${setLight} />
  <//>`;
}
