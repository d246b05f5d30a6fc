/** A finding: one term on one zone, with its side, size, severity and how sure; and the ways to add one. */
import { useState } from "preact/hooks";
import { newId } from "../../job/ids.js";
import { zoneName } from "../../job/progress.js";
import { findingsOn, valueOf } from "../../job/record.js";
import { mirrored, sidesOf } from "../../job/sides.js";
import { sideInWords } from "../../job/wording.js";
import { keep } from "../../local/outbox.js";
import { keepPhoto } from "../../local/photos.js";
import { Choice, Counted, Select, Typed } from "../../parts/controls.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { PictureButtons } from "../../parts/pictures.js";
import { SizeField } from "../../parts/sizes.js";
import { Thumb } from "../../parts/thumb.js";

/** @import { walk } from "../../job/progress.js" */
/** @import { Plan, PlanBook, RecordCopy, Term } from "../../job/types.js" */
/** @typedef {ReturnType<typeof walk>[number]} Step */

const NOTHING_MEASURED = { extent_mm: null, extent_mm_across: null, extent_percent: null, extent_count: null, extent_words: null };

/** @param {{item_id: string, step: Step, book: PlanBook, found: () => Promise<void>}} given */
export function NewFinding({ item_id, step, book, found }) {
  const [words, setWords] = useState("");
  const terms = offered(book, step, words);
  const record = (/** @type {Term} */ term) => attempt(async () => {
    await keep("record_finding", {
      item_id, finding_id: newId(), zone: step.key, term: term.term, side: step.member, severity: term.severity, ...NOTHING_MEASURED,
      activity: ["n", "w", "P", "Q"].includes(term.activity) ? term.activity : null, certainty: "certain", origin: null, note: "", withdrawn: false,
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

/** The usual findings of a zone first; with words typed, every term whose name or "said as" has them. @param {PlanBook} book @param {Step} step @param {string} words */
function offered(book, step, words) {
  const asked = words.trim().toLowerCase();
  const all = book.vocabulary.terms;
  if (!asked) return step.zone.usual.map((name) => all.find((term) => term.term === name)).filter((term) => term !== undefined);
  return all.filter((term) => [term.term.replaceAll("-", " "), ...term.said_as].some((said) => said.toLowerCase().includes(asked))).slice(0, 16);
}

/** @param {{id: string, value: any, item: RecordCopy, plan: Plan, book: PlanBook, step: Step}} given */
export function Finding({ id, value, item, plan, book, step }) {
  const item_id = item.record_id;
  const term = book.vocabulary.terms.find((one) => one.term === value.term);
  const name = value.term.replaceAll("-", " ");
  const change = (/** @type {Record<string, any>} */ patch) => keep("record_finding", { item_id, finding_id: id, ...patch }, { amend: true });
  const pictures = Object.values(item.fields).map((set) => set.value).filter((photo) => photo?.sha256 && photo.finding_id === id && !photo.withdrawn);
  const withdraw = () => attempt(async () => {
    await change({ withdrawn: true });
    sayDone(`Withdrawn: ${name}.`, () => change({ withdrawn: false }));
  });
  return html`<article class="finding">
    <h3>${name}</h3>
    ${term && html`<details><summary>What it means</summary><p>${term.definition}.</p>${term.lookalikes.length > 0 && html`<p>Looks like: ${term.lookalikes.map((one) => one.replaceAll("-", " ")).join(", ")}.</p>`}</details>`}
    <${Choice} label="Severity" options=${book.words.severities.map((one) => [String(one.severity), `${one.severity} ${one.words}`])} value=${String(value.severity)} choose=${(/** @type {string} */ severity) => change({ severity: Number(severity) })} />
    <p class="hint">${book.words.severities.find((one) => one.severity === value.severity)?.meaning}</p>
    <${Extents} id=${id} value=${value} term=${term} book=${book} change=${change} />
    ${!step.member && html`<${Select} label="Where on it" options=${sidesOf(plan).map((side) => [side, sideInWords(side)])} value=${value.side} empty="No side named" choose=${(/** @type {string} */ side) => change({ side: side || null })} />`}
    <${Typed} of=${id} label="Note" hint="Printed as it stands; what the words above do not say" value=${value.note} save=${(/** @type {string} */ note) => change({ note })} lines=${2} />
    <${OtherSide} value=${value} item=${item} step=${step} />
    <details><summary>${[book.words.certainties.find((one) => one.certainty === value.certainty)?.words, book.words.activities.find((one) => one.activity === value.activity)?.words, book.words.originalities.find((one) => one.originality === value.origin)?.words].filter(Boolean).join(", ") || "How sure, is it going on"}</summary>
      <${Choice} label="How sure" options=${book.words.certainties.filter(({ certainty }) => certainty !== "told").map((one) => [one.certainty, one.words])} value=${value.certainty} choose=${(/** @type {string} */ certainty) => change({ certainty })} />
      <${Choice} label="Is it going on?" options=${book.words.activities.map((one) => [one.activity, `${one.words}: ${one.meaning}`])} value=${value.activity} choose=${(/** @type {string} */ activity) => change({ activity })} />
      <${Select} label="What was done to it" options=${book.words.originalities.map((one) => [one.originality, one.words])} value=${value.origin} empty="Nothing to say" choose=${(/** @type {string} */ origin) => change({ origin: origin || null })} />
    </details>
    <div class="pictures">${pictures.map((photo) => html`<${Thumb} key=${photo.sha256} sha256=${photo.thumb_sha256} words=${`photo of the ${name}`} />`)}</div>
    <${PictureButtons} take=${(/** @type {Blob} */ blob) => keepPhoto({ blob, item_id, view: null, zone: value.zone, finding_id: id })} />
    <p><button type="button" class="quiet" onClick=${withdraw}>Withdraw this finding</button></p>
  </article>`;
}

/** The sizes that the term allows. @param {{id: string, value: any, term: Term|undefined, book: PlanBook, change: (patch: Record<string, any>) => Promise<unknown>}} given */
function Extents({ id, value, term, book, change }) {
  const allowed = new Set(term?.extents ?? ["mm", "n", "%", "txt"]);
  const size = (/** @type {number|null} */ mm) => (mm === null ? null : { value: mm, unit: "mm", typed: "" });
  return html`<div class="pair">
      ${(allowed.has("mm") || allowed.has("mm2")) && html`<${SizeField} of=${id} label=${allowed.has("mm2") ? "Longest" : "Length"} unit="mm" most=${5000} size=${size(value.extent_mm)} save=${(/** @type {any} */ one) => change({ extent_mm: one.value })} />`}
      ${allowed.has("mm2") && html`<${SizeField} of=${id} label="Across" unit="mm" most=${5000} size=${size(value.extent_mm_across)} save=${(/** @type {any} */ one) => change({ extent_mm_across: one.value })} />`}
      ${allowed.has("n") && html`<${Counted} of=${id} label="How many" value=${value.extent_count} save=${(/** @type {number} */ extent_count) => (extent_count > 0 ? change({ extent_count }) : Promise.resolve())} />`}
      ${allowed.has("%") && html`<${Counted} of=${id} label="Share of the zone" unit="%" value=${value.extent_percent} save=${(/** @type {number} */ share) => (share > 0 && share <= 100 ? change({ extent_percent: share }) : Promise.resolve())} />`}
    </div>
    ${allowed.has("%") && !value.extent_percent && html`<${Choice} label="or in words" options=${book.words.extents.map((one) => [one.words, `${one.words}, ${one.share}`])} value=${value.extent_words} choose=${(/** @type {string} */ extent_words) => change({ extent_words })} />`}`;
}

/** The same finding on the mirrored member, by one tap of a person who looked at it. @param {{value: any, item: RecordCopy, step: Step}} given */
function OtherSide({ value, item, step }) {
  const other = mirrored(step.member);
  const zone = `${step.zone.zone}/${other}`;
  if (!other || !Array.isArray(step.zone.members) || !step.zone.members.includes(other)) return null;
  if (findingsOn(item, zone).some((one) => one.value.term === value.term)) return null;
  const repeat = () => attempt(async () => {
    const item_id = item.record_id;
    await keep("record_finding", { item_id, finding_id: newId(), ...NOTHING_MEASURED, ...value, zone, side: other });
    if (valueOf(item, `zones/${zone}`)?.state !== "finding") {
      await keep("examine_zone", { item_id, zone, state: "finding", reason: null, light: step.state?.light ?? null, count: null });
    }
    sayDone(`The same on ${zoneName(zone)}.`);
  });
  return html`<p><button type="button" class="chip" onClick=${repeat}>The same on the ${other.replaceAll("-", " ")}</button></p>`;
}
