/** The overall condition of an item, with what it rests on and what it cannot say. */
import { overallCondition } from "../job/condition.js";
import { firstUpper } from "../job/words.js";
import { html } from "./html.js";

/** @import { Plan, RecordCopy } from "../job/types.js" */

const NOT_GRADED = {
  held: "Not graded: held",
  "too little examined": "Not graded: too little examined",
};

/** @param {{plan: Plan|null, item: RecordCopy}} given */
export function Condition({ plan, item }) {
  if (!plan || plan.refer_only) return html`<p class="none">${plan ? "Not graded: it is referred, not examined." : "Choose a class first."}</p>`;
  const { word, index, coverage, so_far, not_graded, because } = overallCondition(plan, item);
  return html`<p class="lead"><strong>${not_graded ? NOT_GRADED[not_graded] : firstUpper(/** @type {string} */ (word))}</strong>${word && so_far ? ", so far as examined" : ""}</p>
    <p class="hint">${Math.floor(100 * coverage)} % of it by weight was examined${word ? `; index ${index.toFixed(1)}, where 0 is perfect` : ""}.</p>
    ${because.length > 0 && html`<p class="hint">Not better because of ${because.join("; ")}.</p>`}
    ${word && html`<details><summary>What this word cannot say</summary>
      <ul>
        <li>It compares within ${plan.name.toLowerCase()} only, by weights that are the house's opinion.</li>
        <li>Where the class has a scale of its own, as coins and books do, that scale is printed and this word is not.</li>
        <li>It is no price and no insurance figure, and it is never published without the findings themselves.</li>
        <li>Two careful people will differ by one word.</li>
      </ul>
    </details>`}`;
}
