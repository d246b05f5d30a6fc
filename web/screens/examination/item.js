/** An item: what kind of thing, what was seen, concluded and told, and how sure; then the way to what is missing. */
import { useState } from "preact/hooks";
import { missing, photosOf, tagsOf, walk } from "../../job/progress.js";
import { valueOf } from "../../job/record.js";
import { shown } from "../../job/tag.js";
import { DATE_CERTAINTIES, firstUpper, MAKER_CERTAINTIES } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { Choice, Counted, Select, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";

/** @import { Plan, PlanBook, RecordCopy } from "../../job/types.js" */

/** @param {{item_id: string}} given */
export default function Item({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  if (item === undefined || plan === undefined || book === undefined) return html`<${Frame} title="Item" back="#/today"><p>Reading …</p><//>`;
  if (item === null) return html`<${Frame} title="Item" back="#/today"><p>This item is not on this device yet. It comes with the next sync.</p><//>`;
  const set = (/** @type {string} */ field) => (/** @type {any} */ value) => keep("set_item", { item_id, field, value });
  const gaps = missing(plan, item);
  const next = gaps.find((gap) => gap.at);
  const address = `#/item/${item_id}`;
  return html`<${Frame} title=${valueOf(item, "short_description") || "New item"} back=${`#/visit/${item.visit_id}`}
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
      <${Typed} label="Materials" value=${valueOf(item, "materials")} save=${set("materials")} />
      <${Typed} label="Marks" hint=${plan?.marks.length ? `Line by line as they stand. Look at: ${plan.marks.join("; ")}` : "Line by line as they stand, and where"} value=${valueOf(item, "marks")} save=${set("marks")} lines=${2} />
    </section>
    <section>
      <h2>How sure</h2>
      <${Typed} label="Maker" value=${valueOf(item, "maker")} save=${set("maker")} />
      <${Select} label="How sure of the maker" options=${MAKER_CERTAINTIES} value=${valueOf(item, "maker_certainty")} choose=${set("maker_certainty")} />
      <${Typed} label="Date" hint="A year, a span, or words such as “about 1920”" value=${valueOf(item, "dates")} save=${set("dates")} />
      <${Choice} label="How sure of the date" options=${DATE_CERTAINTIES} value=${valueOf(item, "dates_certainty")} choose=${set("dates_certainty")} />
    </section>
    ${plan && plan.measures.length > 0 && html`<section>
      <h2>Measures</h2>
      <div class="pair">
        ${plan.measures.map(({ measure, words }) => html`<${Counted} key=${measure} label=${firstUpper(words)} unit=${/gram/.test(words) ? "g" : "mm"} value=${valueOf(item, `measures/${measure}`)} save=${set(`measures/${measure}`)} />`)}
      </div>
    </section>`}
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

/** The three other screens of an item, each with what is left there. @param {{item: RecordCopy, plan: Plan|null, address: string}} given */
function Steps({ item, plan, address }) {
  const steps = plan ? walk(plan, item) : [];
  const told = steps.filter((step) => step.state).length;
  const tags = tagsOf(item);
  return html`<nav class="doors" aria-label="This item">
    <a href=${`${address}/zones`}><strong>Zones</strong> <span>${plan ? `${told} of ${steps.length}` : "choose a class first"}</span></a>
    <a href=${`${address}/photos`}><strong>Photos</strong> <span>${photosOf(item).length}</span></a>
    <a href=${`${address}/tag`}><strong>Tag</strong> <span>${tags.length ? tags.map(shown).join(", ") : "none yet"}</span></a>
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
