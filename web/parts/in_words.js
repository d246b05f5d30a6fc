/** What the record says in words: heading, description, condition paragraph and the five answers. Nothing is added. */
import { fiveAnswers } from "../job/answers.js";
import { lotDescription, lotHeading } from "../job/lot.js";
import { asText, conditionParagraph } from "../job/paragraph.js";
import { html } from "./html.js";

/** @import { Plan, PlanBook, RecordCopy } from "../job/types.js" */

/** @param {{plan: Plan|null, item: RecordCopy, book: PlanBook, heading?: "h2"|"h4"}} given */
export function InWords({ plan, item, book, heading: level = "h2" }) {
  const heading = lotHeading(item);
  const description = lotDescription(plan, book, item);
  const paragraph = plan ? conditionParagraph(plan, book, item) : [];
  return html`<section><${level}>Lot description<//>
      ${heading ? html`<p class="lead"><strong>${heading.words}</strong></p><p>${asText(description)}</p>` : html`<p class="none">Nobody has said what it is.</p>`}</section>
    <section><${level}>Condition<//>
      ${paragraph.length ? html`<p>${asText(paragraph)}</p><p class="hint">${book.words.caveat}</p>` : html`<p class="none">No zone was spoken of yet.</p>`}</section>
    ${plan && plan.questions.length > 0 && html`<section><${level}>What bidders ask<//>
      <dl class="answers">${fiveAnswers(plan, book, item).map(({ question, answer }) => html`<div key=${question}><dt>${question}</dt><dd>${asText(answer)}</dd></div>`)}</dl>
    </section>`}`;
}
