/** One zone: clear, a finding, or not examined and why. A blank is never "fine". */
import { useState } from "preact/hooks";
import { walk, zoneName } from "../../job/progress.js";
import { valueOf } from "../../job/record.js";
import { keep } from "../../local/outbox.js";
import { keepPhoto } from "../../local/photos.js";
import { Choice, Counted, Select, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { Outline } from "../../parts/outline.js";
import { PictureButtons } from "../../parts/pictures.js";
import { Thumb } from "../../parts/thumb.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";
import { StateMark } from "../../parts/zone_marks.js";
import { Denials } from "./denials.js";
import { Finding, NewFinding } from "./finding.js";
import { afterZone, zoneAddress } from "./zone_steps.js";

/** @import { Plan, PlanBook, RecordCopy } from "../../job/types.js" */
/** @typedef {ReturnType<typeof walk>[number]} Step */

/** The light of the last zone stays chosen: a table seldom changes it. */
let lastLight = "";

/** @param {{item_id: string, zone_key: string}} given */
export default function Zone({ item_id, zone_key }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const back = `#/item/${item_id}/zones`;
  if (!item || !plan || !book) return html`<${Frame} title=${zoneName(zone_key)} back=${back}><p>Reading …</p><//>`;
  const steps = walk(plan, item);
  const place = steps.findIndex((one) => one.key === zone_key);
  const step = steps[place];
  if (!step) return html`<${Frame} title=${zoneName(zone_key)} back=${back}><p>This plan has no such zone.</p><//>`;
  return html`<${ZoneOf} key=${zone_key} item=${item} plan=${plan} book=${book} steps=${steps} step=${step} place=${place} />`;
}

/** @param {{item: RecordCopy, plan: Plan, book: PlanBook, steps: Step[], step: Step, place: number}} given */
function ZoneOf({ item, plan, book, steps, step, place }) {
  const [asking, setAsking] = useState(false); // why it was not examined
  const [light, setLight] = useState(step.state?.light ?? lastLight);
  const item_id = item.record_id;
  const drawings = book.outlines?.[plan.class_id] ?? [];
  const next = afterZone(item_id, steps, step.key);
  const state = step.state?.state;
  const origin = valueOf(item, `origins/${step.key}`);
  const count = step.state?.count ?? null;
  const onward = () => { location.hash = next; };
  const examine = (/** @type {string} */ to, /** @type {string|null} */ reason = null) =>
    keep("examine_zone", { item_id, zone: step.key, state: to, reason, light: to === "not-examined" ? null : light || null, count });
  const useLight = async (/** @type {string} */ chosen) => {
    lastLight = chosen;
    setLight(chosen);
    if (state === "clear" || state === "finding") await keep("examine_zone", { item_id, zone: step.key, state, reason: null, light: chosen, count });
  };
  const clear = () => attempt(async () => {
    await examine("clear");
    sayDone(`${zoneName(step.key)}: clear.`, () => { location.hash = `#/item/${item_id}/zone/${encodeURIComponent(step.key)}`; });
    onward();
  });
  const skip = (/** @type {string} */ reason) => attempt(async () => {
    await examine("not-examined", reason);
    sayDone(`${zoneName(step.key)}: not examined.`, () => { location.hash = `#/item/${item_id}/zone/${encodeURIComponent(step.key)}`; });
    onward();
  });
  const found = async () => {
    if (state !== "finding") await examine("finding");
  };
  const usable = step.findings.length === 0;
  return html`<${Frame} title=${zoneName(step.key)} back=${`#/item/${item_id}/zones`} item=${item}
    action=${state
      ? html`<button type="button" class="main" onClick=${onward}>${next.includes("/zone/") ? "Next zone" : "All zones done"}</button>`
      : html`<button type="button" onClick=${() => setAsking(!asking)} aria-expanded=${asking}>Not examined</button>
          <button type="button" class="main" disabled=${!light || !usable} onClick=${clear}>Clear</button>`}>
    <p class="place-in-walk">Zone ${place + 1} of ${steps.length} <${StateMark} state=${state} /></p>
    <p class="lead">${step.zone.words}</p>
    <p class="frame-note">${plan.frame_note}${step.zone.members === "counted" ? ` ${plan.count_start}` : ""}</p>
    ${drawings.some(({ shapes }) => shapes.some(({ zone }) => zone === step.key)) && html`<details class="where"><summary>Where on it</summary><${Outline} drawings=${drawings} steps=${steps} chosen=${step.key} choose=${(/** @type {string} */ key) => { location.hash = zoneAddress(item_id, key); }} /></details>`}
    <${Light} book=${book} light=${light} choose=${useLight} />
    ${step.zone.members === "counted" && state && state !== "not-examined" &&
    html`<${Counted} label="How many were counted" value=${count} save=${(/** @type {number} */ number) => keep("examine_zone", { item_id, zone: step.key, state, reason: null, light: light || null, count: number })} />`}
    ${state === "not-examined" && html`<p class="lead">${book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words}</p>`}
    ${asking && html`<section>
      <h2>Why not?</h2>
      <div class="chips">${book.words.reasons.map(({ reason, words }) => html`<button type="button" key=${reason} class="chip" onClick=${() => skip(reason)}>${words}</button>`)}</div>
    </section>`}
    ${step.findings.length > 0 && html`<section>
      <h2>Findings <span class="count">${step.findings.length}</span></h2>
      ${step.findings.map(({ id, value }) => html`<${Finding} key=${id} id=${id} value=${value} item=${item} plan=${plan} book=${book} step=${step} />`)}
    </section>`}
    ${(light || state === "finding") && state !== "clear" && html`<${NewFinding} item_id=${item_id} step=${step} book=${book} found=${found} />`}
    <${Denials} item=${item} plan=${plan} book=${book} step=${step} light=${light} />
    ${state && state !== "not-examined" && html`<section>
      <${Select} label="What has happened to it since it was made" options=${book.words.originalities.map((one) => [one.originality, one.words])} value=${origin?.origin} empty="Nothing to say"
        choose=${(/** @type {string} */ to) => keep("record_origin", { item_id, zone: step.key, ...(origin ? {} : { note: "" }), origin: to || null }, { amend: true })} />
      ${origin?.origin && html`<${Typed} label="Note on that" value=${origin.note} save=${(/** @type {string} */ note) => keep("record_origin", { item_id, zone: step.key, note }, { amend: true })} />`}
    </section>`}
    ${state && html`<section>
      <h2>Change what was said</h2>
      <div class="chips">
        ${state !== "clear" && html`<button type="button" class="chip" disabled=${!light || !usable} onClick=${() => attempt(() => examine("clear"))}>${usable ? "Clear" : "Clear (withdraw the findings first)"}</button>`}
        ${state !== "not-examined" && html`<button type="button" class="chip" onClick=${() => setAsking(!asking)}>Not examined</button>`}
      </div>
      ${state === "clear" && html`<${NewFinding} item_id=${item_id} step=${step} book=${book} found=${found} />`}
    </section>`}
    <section>
      <h2>Photos of this zone <span class="count">${step.photos.length}</span></h2>
      <${PictureButtons} take=${(/** @type {Blob} */ blob) => keepPhoto({ blob, item_id, view: null, zone: step.key, finding_id: null })} />
      <div class="pictures">${step.photos.map(({ id, value }) => html`<${Thumb} key=${id} sha256=${value.thumb_sha256} words=${`photo of ${zoneName(step.key)}`} />`)}</div>
    </section>
  <//>`;
}

/** The light or tool: asked once, then one line. @param {{book: PlanBook, light: string, choose: (light: string) => unknown}} given */
function Light({ book, light, choose }) {
  const [open, setOpen] = useState(!light);
  if (!open) {
    return html`<p class="chosen-light">Looked at with <strong>${book.words.lights.find((one) => one.light === light)?.words ?? light}</strong>
      <button type="button" class="quiet" onClick=${() => setOpen(true)}>Change</button></p>`;
  }
  return html`<${Choice} label=${light ? "Looked at with" : "Looked at with what? Then say what was found"} options=${book.words.lights.map((one) => [one.light, one.words])} value=${light}
    choose=${(/** @type {string} */ chosen) => { setOpen(false); return choose(chosen); }} />`;
}
