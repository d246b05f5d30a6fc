/** An item: what kind of thing, what was seen, concluded and told, and how sure; then the way to what is missing. */
import { useRef, useState } from "preact/hooks";
import { isTest, missing, photosOf, tagsOf, walk } from "../../job/progress.js";
import { listed, valueOf } from "../../job/record.js";
import { shown } from "../../job/tag.js";
import { DATE_CERTAINTIES, MAKER_CERTAINTIES } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { Choice, Select, Typed } from "../../parts/controls.js";
import { DateField } from "../../parts/date_field.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";

/** @import { Plan, PlanBook, RecordCopy } from "../../job/types.js" */

/** @param {{item_id: string}} given */
export default function Item({ item_id }) {
  const item = useRecord(item_id);
  const found = usePlan(item);
  const begun = useRef(false);
  begun.current ||= Boolean(item) && found !== undefined;
  const plan = found ?? null; // while another class's plan is read, the fields stay where somebody may be typing
  const book = usePlanBook();
  if (item === undefined || !begun.current || book === undefined) return html`<${Frame} title="Item" back="#/today"><p>Reading …</p><//>`;
  if (item === null) return html`<${Frame} title="Item" back="#/today"><p>This item is not on this device yet. It comes with the next sync.</p><//>`;
  const set = (/** @type {string} */ field) => (/** @type {any} */ value) => keep("set_item", { item_id, field, value });
  const gaps = missing(plan, item);
  const next = gaps.find((gap) => gap.at);
  const address = `#/item/${item_id}`;
  return html`<${Frame} title=${valueOf(item, "short_description") || "New item"} back=${`#/visit/${item.visit_id}`} item=${item}
    action=${next
      ? html`<a class="button main" href=${address + next.at}>Next: ${next.words}</a>`
      : html`<a class="button main" href=${`#/visit/${item.visit_id}`}>Done, back to the visit</a>`}>
    <${Steps} item=${item} plan=${plan} address=${address} />
    <${ClassChoice} item=${item} plan=${plan} book=${book} />
    ${plan?.refer_only && html`<${ReferOnly} plan=${plan} />`}
    <section>
      <h2>What it is</h2>
      <${Typed} label="Short description" hint="A few words, as on the tag's list" value=${valueOf(item, "short_description")} save=${set("short_description")} max=${200} />
      <${Typed} label="Seen" hint="What anybody could see: shape, colour, marks, wear" value=${valueOf(item, "seen_words")} save=${set("seen_words")} lines=${3} />
      <${Typed} label="Concluded" hint="What we think follows from it" value=${valueOf(item, "concluded_words")} save=${set("concluded_words")} lines=${2} />
      <${Typed} label="Told by the owner" hint="Their words. It is never printed as ours" value=${valueOf(item, "told_words")} save=${set("told_words")} lines=${2} />
      <${Typed} label="Materials" hint="As seen; “tests as” only after a test" value=${valueOf(item, "materials")} save=${set("materials")} />
      <div class="pair">
        <${Typed} label="Colour now" value=${valueOf(item, "colour_now")} save=${set("colour_now")} />
        <${Typed} label="Colour where light did not reach" hint="Only if it was seen" value=${valueOf(item, "colour_was")} save=${set("colour_was")} />
      </div>
    </section>
    <section>
      <h2>Maker and date</h2>
      <${Typed} label="Maker" value=${valueOf(item, "maker")} save=${set("maker")} />
      <${Select} label="How sure of the maker" options=${MAKER_CERTAINTIES} value=${valueOf(item, "maker_certainty")} choose=${set("maker_certainty")} />
      ${book && html`<${Evidence} label="What speaks for the maker" item=${item} field="maker_evidence" book=${book} strong=${["by", "attributed-to", "workshop-of"].includes(valueOf(item, "maker_certainty"))} />`}
      <${DateField} conventions=${book?.words.dates} date=${valueOf(item, "dates")} save=${(/** @type {any} */ date) => keep("record_date", { item_id, ...date })} />
      <${Choice} label="How sure of the date" options=${DATE_CERTAINTIES} value=${valueOf(item, "dates_certainty")} choose=${set("dates_certainty")} />
      ${book && html`<${Evidence} label="What speaks for the date" item=${item} field="dates_evidence" book=${book} strong=${valueOf(item, "dates_certainty") === "certain"} />`}
    </section>
    <section>
      <h2>Packaging</h2>
      <${Typed} label="How it is wrapped for the van" value=${valueOf(item, "packaging")} save=${set("packaging")} />
    </section>
    ${gaps.length > 0 && html`<section>
      <h2>Still missing <span class="count">${gaps.length}</span></h2>
      <ul class="gaps">${gaps.map((gap) => html`<li key=${gap.what}>${gap.at ? html`<a href=${address + gap.at}>${gap.words}</a>` : gap.words}</li>`)}</ul>
    </section>`}
  <//>`;
}

/** Kinds of evidence; two at least for anything stronger than "probably". @param {{label: string, item: RecordCopy, field: string, book: PlanBook, strong: boolean}} given */
function Evidence({ label, item, field, book, strong }) {
  /** @type {string[]} */
  const chosen = valueOf(item, field) ?? [];
  const toggle = (/** @type {string} */ evidence) => attempt(() => keep("set_item", {
    item_id: item.record_id, field, value: chosen.includes(evidence) ? chosen.filter((one) => one !== evidence) : [...chosen, evidence],
  }));
  return html`<div class="field" role="group" aria-label=${label}>
    <span class="label">${label}</span>
    ${strong && chosen.length < 2 && html`<p class="hint">So sure an opinion rests on two kinds of evidence at least.</p>`}
    <div class="chips">${book.words.evidences.map(({ evidence, words, strength }) => html`<button type="button" key=${evidence} class="chip" title=${strength} aria-pressed=${chosen.includes(evidence)} onClick=${() => toggle(evidence)}>${words}</button>`)}</div>
  </div>`;
}

/** The other screens of an item in the order of the walk, each with what is there. @param {{item: RecordCopy, plan: Plan|null, address: string}} given */
function Steps({ item, plan, address }) {
  const steps = plan ? walk(plan, item) : [];
  const told = steps.filter((step) => step.state).length;
  const tags = tagsOf(item);
  const tests = plan?.tests.filter(isTest) ?? [];
  const tried = tests.filter(({ test }) => valueOf(item, `tests/${test}`)).length;
  const marks = listed(item, "marks/").filter(({ value }) => !value.withdrawn).length;
  const measured = listed(item, "measures/").filter(({ value }) => value.value).length;
  /** @type {[string, string, string|number][]} */
  const doors = [
    ["zones", "Zones", plan ? `${told} of ${steps.length}` : "choose a class first"],
    ["marks", "Marks", marks || (valueOf(item, "marks_looked") ? "none found" : "not said")],
    ["works", "What works", plan ? `${tried} of ${tests.length}` : ""],
    ["measures", "Measures", measured],
    ["photos", "Photos", photosOf(item).length],
    ["tag", "Tag", tags.length ? tags.map(shown).join(", ") : "none yet"],
    ["words", "In words", "read it back"],
  ];
  return html`<nav class="doors" aria-label="This item">
    ${doors.map(([part, words, there]) => html`<a key=${part} href=${`${address}/${part}`}><strong>${words}</strong> <span>${there}</span></a>`)}
  </nav>`;
}

/** @param {{item: RecordCopy, plan: Plan|null, book: PlanBook|null}} given */
function ClassChoice({ item, plan, book }) {
  const [open, setOpen] = useState(!plan);
  if (!book) return html`<p class="bar">The plans are not on this device yet. They come with the next sync; write the rest meanwhile.</p>`;
  const choose = (/** @type {string} */ class_id) => attempt(async () => {
    const version = book.plans[class_id]?.version ?? "";
    await keep("set_item", { item_id: item.record_id, field: "class_id", value: class_id });
    await keep("set_item", { item_id: item.record_id, field: "plan_version", value: version });
    setOpen(false);
  });
  if (plan && !open) {
    return html`<section class="chosen">
      <h2 class="unseen">Class</h2>
      <p><strong>${plan.name}</strong> <button type="button" class="quiet" onClick=${() => setOpen(true)}>Choose another class</button></p>
      ${plan.hazards.length > 0 && html`<p class="hint">Take care: this class can hold hazards. When in doubt do not open, wind, taste or plug in anything; set it apart and ask.</p>`}
    </section>`;
  }
  const plans = Object.values(book.plans).sort((one, other) => Number(one.class_id === "free") - Number(other.class_id === "free") || one.name.localeCompare(other.name));
  return html`<section>
    <${Choice} label="What kind of thing is it?" options=${plans.map((one) => [one.class_id, one.name])} value=${plan?.class_id} choose=${choose} />
    ${plan && walk(plan, item).some((step) => step.state) && html`<p class="hint">What was said about zones stays in the record when the class changes.</p>`}
  </section>`;
}

/** @param {{plan: Plan}} given */
function ReferOnly({ plan }) {
  return html`<section class="caution">
    <h2>Do not examine: refer it</h2>
    <p>Local law and licensed people decide what may be done with it.</p>
    <h3>Do</h3><ul>${plan.instructions.do.map((line) => html`<li key=${line}>${line}</li>`)}</ul>
    <h3>Do not</h3><ul>${plan.instructions.do_not.map((line) => html`<li key=${line}>${line}</li>`)}</ul>
  </section>`;
}
