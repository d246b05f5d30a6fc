/** One zone: clear, a finding, or not examined and why. A blank is never "fine". */
import { useState } from "preact/hooks";
import { walk, zoneName } from "../../job/progress.js";
import { newId } from "../../job/ids.js";
import { keep } from "../../local/outbox.js";
import { keepPhoto } from "../../local/photos.js";
import { Choice, Counted, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { PictureButtons } from "../../parts/pictures.js";
import { Thumb } from "../../parts/thumb.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";
import { StateMark } from "../../parts/zone_marks.js";
import { afterZone } from "./zone_steps.js";

/** @import { Plan, PlanBook, RecordCopy, Term } from "../../job/types.js" */
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
  const [open, setOpen] = useState(/** @type {""|"finding"|"not-examined"} */ (""));
  const [light, setLight] = useState(step.state?.light ?? lastLight);
  const item_id = item.record_id;
  const next = afterZone(item_id, steps, step.key);
  const state = step.state?.state;
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
  return html`<${Frame} title=${zoneName(step.key)} back=${`#/item/${item_id}/zones`}
    action=${state
      ? html`<button type="button" class="main" onClick=${onward}>${next.includes("/zone/") ? "Next zone" : "All zones done"}</button>`
      : html`<button type="button" onClick=${() => setOpen(open === "not-examined" ? "" : "not-examined")} aria-expanded=${open === "not-examined"}>Not examined</button>
          <button type="button" onClick=${() => setOpen(open === "finding" ? "" : "finding")} aria-expanded=${open === "finding"}>Finding</button>
          <button type="button" class="main" disabled=${!light || !usable} onClick=${clear}>Clear</button>`}>
    <p class="place-in-walk">Zone ${place + 1} of ${steps.length} <${StateMark} state=${state} /></p>
    <p class="lead">${step.zone.words}</p>
    <p class="frame-note">${plan.frame_note}${step.zone.members === "counted" ? ` ${plan.count_start}` : ""}</p>
    <${Light} book=${book} light=${light} choose=${useLight} />
    ${step.zone.members === "counted" && state && state !== "not-examined" &&
    html`<${Counted} label="How many were counted" value=${count} save=${(/** @type {number} */ number) => keep("examine_zone", { item_id, zone: step.key, state, reason: null, light: light || null, count: number })} />`}
    ${state === "not-examined" && html`<p class="lead">${book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words}</p>`}
    ${open === "not-examined" && html`<section>
      <h2>Why not?</h2>
      <div class="chips">${book.words.reasons.map(({ reason, words }) => html`<button type="button" key=${reason} class="chip" onClick=${() => skip(reason)}>${words}</button>`)}</div>
    </section>`}
    ${step.findings.length > 0 && html`<section>
      <h2>Findings <span class="count">${step.findings.length}</span></h2>
      ${step.findings.map(({ id, value }) => html`<${Finding} key=${id} id=${id} value=${value} item=${item} book=${book} />`)}
    </section>`}
    ${(open === "finding" || state === "finding") && html`<${NewFinding} item_id=${item_id} step=${step} book=${book} found=${found} />`}
    ${state && html`<section>
      <h2>Change what was said</h2>
      <div class="chips">
        ${state !== "clear" && html`<button type="button" class="chip" disabled=${!light || !usable} onClick=${() => attempt(() => examine("clear"))}>${usable ? "Clear" : "Clear (withdraw the findings first)"}</button>`}
        ${state !== "finding" && html`<button type="button" class="chip" onClick=${() => setOpen("finding")}>Finding</button>`}
        ${state !== "not-examined" && html`<button type="button" class="chip" onClick=${() => setOpen("not-examined")}>Not examined</button>`}
      </div>
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

/** @param {{item_id: string, step: Step, book: PlanBook, found: () => Promise<void>}} given */
function NewFinding({ item_id, step, book, found }) {
  const [words, setWords] = useState("");
  const terms = offered(book, step, words);
  const record = (/** @type {Term} */ term) => attempt(async () => {
    await keep("record_finding", {
      item_id, finding_id: newId(), zone: step.key, term: term.term, side: step.member, severity: term.severity, extent_mm: null,
      extent_words: null, activity: activityOf(term), certainty: "certain", origin: null, note: "", withdrawn: false,
    });
    await found();
    setWords("");
  });
  return html`<section>
    <h2>${step.findings.length ? "Another finding" : "What was found?"}</h2>
    <div class="chips">${terms.map((term) => html`<button type="button" key=${term.term} class="chip" title=${term.definition} onClick=${() => record(term)}>${term.term.replaceAll("-", " ")}</button>`)}</div>
    ${!terms.length && html`<p class="none">No term is called that. Try another word, or record the nearest and write a note.</p>`}
    <div class="field"><label for="term-words">Search all terms</label>
      <input id="term-words" type="search" value=${words} onInput=${(/** @type {any} */ event) => setWords(event.target.value)} autocomplete="off" placeholder="as it is said at the table" /></div>
  </section>`;
}

/** @param {Term} term */
function activityOf(term) {
  return ["n", "w", "P", "Q"].includes(term.activity) ? term.activity : null;
}

/** The usual findings of a zone first; with words typed, every term whose name or "said as" has them. @param {PlanBook} book @param {Step} step @param {string} words */
function offered(book, step, words) {
  const asked = words.trim().toLowerCase();
  const all = book.vocabulary.terms;
  if (!asked) return step.zone.usual.map((name) => all.find((term) => term.term === name)).filter((term) => term !== undefined);
  return all.filter((term) => [term.term.replaceAll("-", " "), ...term.said_as].some((said) => said.toLowerCase().includes(asked))).slice(0, 16);
}

/** @param {{id: string, value: any, item: RecordCopy, book: PlanBook}} given */
function Finding({ id, value, item, book }) {
  const item_id = item.record_id;
  const term = book.vocabulary.terms.find((one) => one.term === value.term);
  const change = (/** @type {Record<string, any>} */ patch) => keep("record_finding", { item_id, finding_id: id, ...value, ...patch });
  const pictures = Object.values(item.fields).map((set) => set.value).filter((photo) => photo?.sha256 && photo.finding_id === id && !photo.withdrawn);
  const withdraw = () => attempt(async () => {
    await change({ withdrawn: true });
    sayDone(`Withdrawn: ${value.term.replaceAll("-", " ")}.`, () => change({ withdrawn: false }));
  });
  return html`<article class="finding">
    <h3>${value.term.replaceAll("-", " ")}</h3>
    ${term && html`<details><summary>What it means</summary><p>${term.definition}.</p>${term.lookalikes.length > 0 && html`<p>Looks like: ${term.lookalikes.join(", ").replaceAll("-", " ")}.</p>`}</details>`}
    <${Choice} label="Severity" options=${book.words.severities.map((one) => [String(one.severity), `${one.severity} ${one.words}`])} value=${String(value.severity)} choose=${(/** @type {string} */ severity) => change({ severity: Number(severity) })} />
    <p class="hint">${book.words.severities.find((one) => one.severity === value.severity)?.meaning}</p>
    <div class="pair">
      <${Counted} of=${id} label="Longest dimension" unit="mm" value=${value.extent_mm} save=${(/** @type {number} */ extent_mm) => extent_mm > 0 ? change({ extent_mm }) : Promise.resolve()} />
      <${Choice} label="or in words" options=${book.words.extents.map((one) => [one.words, one.words])} value=${value.extent_words} choose=${(/** @type {string} */ extent_words) => change({ extent_words })} />
    </div>
    <${Typed} of=${id} label="Note" value=${value.note} save=${(/** @type {string} */ note) => change({ note })} lines=${2} />
    <div class="pictures">${pictures.map((photo) => html`<${Thumb} key=${photo.sha256} sha256=${photo.thumb_sha256} words=${`photo of the ${value.term.replaceAll("-", " ")}`} />`)}</div>
    <${PictureButtons} take=${(/** @type {Blob} */ blob) => keepPhoto({ blob, item_id, view: null, zone: value.zone, finding_id: id })} />
    <p><button type="button" class="quiet" onClick=${withdraw}>Withdraw this finding</button></p>
  </article>`;
}
