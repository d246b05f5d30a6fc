/** Marks: each as it stands, line by line, with its place; the reading apart. None found says where it was looked for. */
import { newId } from "../../job/ids.js";
import { listed, valueOf } from "../../job/record.js";
import { keep } from "../../local/outbox.js";
import { Choice, Select, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { NextStep } from "../../parts/next_step.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";

/** @import { PlanBook } from "../../job/types.js" */

/** @type {[string, string][]} */
const COMPLETENESS = [["complete", "Complete"], ["worn", "Worn"], ["partial", "Partial"], ["illegible", "Illegible"]];

/** @param {{item_id: string}} given */
export default function Marks({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book) return html`<${Frame} title="Marks" back=${back}><p>Reading …</p><//>`;
  const marks = listed(item, "marks/").filter(({ value }) => !value.withdrawn);
  const add = (/** @type {string} */ place) => attempt(() =>
    keep("record_mark", { item_id, mark_id: newId(), place, technique: null, colour: "", completeness: null, text: "", reading: "", withdrawn: false }));
  return html`<${Frame} title=${marks.length ? `Marks: ${marks.length}` : "Marks"} back=${back} item=${item}
    action=${html`<${NextStep} item=${item} plan=${plan} here="/marks" />`}>
    ${marks.map(({ id, value }) => html`<${Mark} key=${id} id=${id} value=${value} item_id=${item_id} book=${book} places=${plan?.marks ?? []} />`)}
    <section>
      <h2>${marks.length ? "Another mark" : "Where is a mark?"}</h2>
      <div class="chips">${(plan?.marks ?? []).map((place) => html`<button type="button" key=${place} class="chip" onClick=${() => add(place)}>${place}</button>`)}
        <button type="button" class="chip" onClick=${() => add("")}>Elsewhere</button></div>
    </section>
    ${marks.length === 0 && html`<section>
      <h2>No marks found?</h2>
      <${Typed} label="Looked at" hint="A missing mark says something only where it was looked for" value=${valueOf(item, "marks_looked")} save=${(/** @type {string} */ value) => keep("set_item", { item_id, field: "marks_looked", value })} />
      ${plan && html`<button type="button" class="chip" onClick=${() => attempt(() => keep("set_item", { item_id, field: "marks_looked", value: plan.marks.join(", ") }))}>Looked at all of these places</button>`}
    </section>`}
  <//>`;
}

/** @param {{id: string, value: any, item_id: string, book: PlanBook, places: string[]}} given */
function Mark({ id, value, item_id, book, places }) {
  const change = (/** @type {Record<string, any>} */ patch) => keep("record_mark", { item_id, mark_id: id, ...patch }, { amend: true });
  const set = (/** @type {string} */ name) => (/** @type {string} */ text) => change({ [name]: text });
  const withdraw = () => attempt(async () => {
    await change({ withdrawn: true });
    sayDone("The mark is withdrawn.", () => change({ withdrawn: false }));
  });
  return html`<article class="finding">
    <h3>${value.place || "A mark"}</h3>
    <${Typed} of=${id} label="As it stands" hint="Line by line, mistakes and all" value=${value.text} save=${set("text")} lines=${3} />
    ${!places.includes(value.place) && html`<${Typed} of=${id} label="Place" value=${value.place} save=${set("place")} />`}
    <div class="pair">
      <${Select} label="How it is there" options=${book.words.techniques.map((one) => [one.technique, one.words])} value=${value.technique} choose=${(/** @type {string} */ technique) => change({ technique: technique || null })} />
      <${Typed} of=${id} label="Colour" value=${value.colour} save=${set("colour")} />
    </div>
    <${Choice} label="How much is left" options=${COMPLETENESS} value=${value.completeness} choose=${(/** @type {string} */ completeness) => change({ completeness })} />
    <${Typed} of=${id} label="Our reading" hint="What we think it says; kept apart from what stands there" value=${value.reading} save=${set("reading")} />
    <button type="button" class="quiet" onClick=${withdraw}>Withdraw this mark</button>
  </article>`;
}
