/** Measures in the trade's order: metric or inches as typed, the other beside it. */
import { valueOf } from "../../job/record.js";
import { firstUpper } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { SizeField } from "../../parts/sizes.js";
import { NextStep } from "../../parts/next_step.js";
import { usePlan, useRecord } from "../../parts/use.js";

/** @param {{item_id: string}} given */
export default function Measures({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined) return html`<${Frame} title="Measures" back=${back}><p>Reading …</p><//>`;
  return html`<${Frame} title="Measures" back=${back} item=${item} action=${html`<${NextStep} item=${item} plan=${plan} here="/measures" />`}>
    ${plan
      ? html`<p class="frame-note">Measure last: by now it is known where not to touch.</p>
        ${plan.measures.map(({ measure, unit, most, words }) => html`<${SizeField} key=${measure} of=${measure} label=${firstUpper(words)} unit=${unit} most=${most} size=${valueOf(item, `measures/${measure}`)}
          save=${(/** @type {any} */ size) => keep("record_measure", { item_id, measure, ...size })} />`)}`
      : html`<p class="lead">The class decides what is measured.</p>`}
  <//>`;
}
