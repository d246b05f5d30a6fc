/**
 * Stop: a sign of hazard or restriction was noticed. What everybody does first, which sign it is, what staff may and may
 * not do, who decides; and later what they decided. The tool never says what a thing is, nor that it is safe.
 */
import { useState } from "preact/hooks";
import { newId } from "../../job/ids.js";
import { listed, valueOf } from "../../job/record.js";
import { firstUpper } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { LEVEL_WORDS } from "../../parts/caution_bar.js";
import { Choice, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { useHeld, usePlan, usePlanBook, useRecord } from "../../parts/use.js";

/** @import { Caution, PlanBook, RecordCopy } from "../../job/types.js" */

/** @type {[string, string][]} */
export const DECISIONS = [
  ["cleared", "Cleared to go on"],
  ["isolated", "Set apart, stays held"],
  ["referred", "Referred, stays held"],
  ["returned", "Goes home with the owner"],
];

/** @param {{item_id: string}} given */
export default function Stop({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [chosen, setChosen] = useState(/** @type {Caution|null} */ (null));
  const [words, setWords] = useState("");
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book?.cautions) return html`<${Frame} title="Stop" back=${back}><p>Reading …</p><//>`;
  const raised = listed(item, "cautions/");
  if (chosen) return html`<${Raise} item=${item} book=${book} caution=${chosen} close=${() => setChosen(null)} />`;
  const asked = words.trim().toLowerCase();
  const all = book.cautions.cautions;
  const usual = all.filter((one) => plan?.hazards.includes(one.hazard));
  const offered = asked ? all.filter((one) => `${one.subject} ${one.sign}`.toLowerCase().includes(asked)) : [...usual, ...all.filter((one) => !usual.includes(one))];
  return html`<${Frame} title="Stop" back=${back} item=${item} stoppedToo=${true} action=${html`<a class="button main" href=${back}>Back to the item</a>`}>
    ${raised.length === 0 && html`<ol class="steps stop-card">${book.cautions.card.map((line) => html`<li key=${line}>${line}</li>`)}</ol>`}
    ${raised.map(({ id, value }) => html`<${Raised} key=${id} id=${id} value=${value} item=${item} book=${book} />`)}
    <section>
      <h2>${raised.length ? "Another sign" : "What was noticed?"}</h2>
      <div class="field"><label for="sign-words">Search the signs</label>
        <input id="sign-words" type="search" value=${words} onInput=${(/** @type {any} */ event) => setWords(event.target.value)} autocomplete="off" placeholder="blade, mould, battery, old film …" /></div>
      <ul class="rows">${offered.map((one) => html`<li key=${one.hazard}><button type="button" class="row" onClick=${() => setChosen(one)}>
        <span class="what"><span class=${`level ${one.level}`}>${LEVEL_WORDS[one.level]}</span>${one.sign}<small>${one.subject}</small></span></button></li>`)}</ul>
      ${!offered.length && html`<p class="none">No sign is called that. Try another word; when in doubt, hands off and call.</p>`}
    </section>
    <p class="hint">${book.cautions.country}. ${book.cautions.notice}</p>
  <//>`;
}

/** @param {{caution: Caution}} given */
function Rules({ caution }) {
  return html`<p class="lead"><strong>${caution.caution}</strong></p>
    <dl class="facts">
      <div><dt>Staff may</dt><dd>${caution.may}</dd></div>
      <div><dt>Staff may not</dt><dd>${caution.may_not}</dd></div>
      <div><dt>Who decides</dt><dd>${caution.who}; local law and licensed practice</dd></div>
      <div><dt>Rests on</dt><dd>${caution.basis}</dd></div>
    </dl>`;
}

/** @param {{item: RecordCopy, book: PlanBook, caution: Caution, close: () => void}} given */
function Raise({ item, book, caution, close }) {
  const { said, set, drop } = useHeld(`caution ${caution.hazard} ${item.record_id}`, { sign: "", called: "", place: "" });
  const raise = () => attempt(async () => {
    await keep("raise_caution", { item_id: item.record_id, caution_id: newId(), hazard: caution.hazard, level: caution.level, zone: null, ...said, sign: said.sign || caution.sign });
    drop();
    sayDone(caution.level === "red" ? "The item is stopped." : "The caution stands on the item.");
    close();
  });
  return html`<${Frame} title="Stop" back=${`#/item/${item.record_id}`} item=${item} stoppedToo=${true}
    action=${html`<button type="button" onClick=${close}>Another sign</button>
      <button type="button" class="main" onClick=${raise}>${caution.level === "red" ? "Stop this item" : "Put the caution on it"}</button>`}>
    <section class="caution"><h2>${LEVEL_WORDS[caution.level]}</h2><p>${caution.subject}</p></section>
    <${Rules} caution=${caution} />
    <section>
      <${Typed} of=${caution.hazard} label="What was seen" hint="What it looks like, not what it is" value=${said.sign} save=${set("sign")} lines=${2} />
      <${Typed} of=${caution.hazard} label="Who was called, and when they came" value=${said.called} save=${set("called")} />
      <${Typed} of=${caution.hazard} label="Where it is now" value=${said.place} save=${set("place")} />
    </section>
    <p class="hint">${book.cautions.country}. ${book.cautions.notice}</p>
  <//>`;
}

/** @param {{id: string, value: any, item: RecordCopy, book: PlanBook}} given */
function Raised({ id, value, item, book }) {
  const caution = book.cautions.cautions.find((one) => one.hazard === value.hazard);
  const decided = valueOf(item, `caution-decisions/${id}`);
  const [open, setOpen] = useState(false);
  const words = DECISIONS.find(([key]) => key === decided?.decision)?.[1];
  return html`<article class="finding">
    <h3>${LEVEL_WORDS[value.level]}: ${caution?.subject ?? value.hazard}</h3>
    <p>Seen: ${value.sign}${value.called ? `. Called: ${value.called}` : ""}${value.place ? `. Place: ${value.place}` : ""}</p>
    ${caution && html`<${Rules} caution=${caution} />`}
    ${decided && html`<p class="lead"><strong>${words}</strong> by ${decided.decided_by}${decided.cleared_for ? `, for ${decided.cleared_for}` : ""}${decided.place ? `. ${firstUpper(decided.place)}` : ""}. ${decided.paper_given ? "The owner was given a paper." : "The owner has no paper of it."}</p>`}
    ${open
      ? html`<${Decide} id=${id} item=${item} decided=${decided} close=${() => setOpen(false)} />`
      : html`<button type="button" onClick=${() => setOpen(true)}>${decided ? "Change the decision" : "What was decided"}</button>`}
  </article>`;
}

/** @param {{id: string, item: RecordCopy, decided: any, close: () => void}} given */
function Decide({ id, item, decided, close }) {
  const { said, set, drop } = useHeld(`decision ${id}`, { decision: "", decided_by: "", cleared_for: "", place: "", paper_given: false, note: "", ...decided });
  const ready = said.decision && said.decided_by.trim();
  const record = () => attempt(async () => {
    await keep("decide_caution", { item_id: item.record_id, caution_id: id, ...said });
    drop();
    close();
  });
  return html`<div>
    <${Choice} label="Decided" options=${DECISIONS} value=${said.decision} choose=${set("decision")} />
    <${Typed} of=${id} label="Decided by" hint="Name and office of whoever decided; not the person who asked" value=${said.decided_by} save=${set("decided_by")} />
    <${Typed} of=${id} label="Cleared for what" hint="For example: taking in, description, sale" value=${said.cleared_for} save=${set("cleared_for")} />
    <${Typed} of=${id} label="Where it goes, and who saw it go" value=${said.place} save=${set("place")} />
    <${Choice} label="Was the owner given a paper?" options=${[["yes", "Yes"], ["no", "No"]]} value=${said.paper_given ? "yes" : "no"} choose=${(/** @type {string} */ to) => set("paper_given")(to === "yes")} />
    <p class="inline"><button type="button" class="main" disabled=${!ready} onClick=${record}>${ready ? "Record the decision" : "Say what and who first"}</button>
      <button type="button" class="quiet" onClick=${close}>Not now</button></p>
  </div>`;
}
