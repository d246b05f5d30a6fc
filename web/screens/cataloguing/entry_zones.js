/** An item's zones at the desk: state, what was said, what was looked for and not seen, and the history of each. */
import { walk, zoneName } from "../../job/progress.js";
import { findingsOn, listed, valueOf } from "../../job/record.js";
import { findingInWords, ORIGIN_WORDS } from "../../job/wording.js";
import { firstUpper, operationWords } from "../../job/words.js";
import { momentWords } from "../../parts/controls.js";
import { html } from "../../parts/html.js";
import { StateMark } from "../../parts/zone_marks.js";

/** @import { Plan, PlanBook, RecordCopy } from "../../job/types.js" */

/** @param {{item: RecordCopy, plan: Plan|null, book: PlanBook|null, past: any[], who: (person_id: string) => string}} given */
export function ZoneTable({ item, plan, book, past, who }) {
  if (!plan || !book) return html`<p class="none">No class was chosen, so there is no list of zones.</p>`;
  return html`<table class="zone-table">
    <thead><tr><th scope="col">Zone</th><th scope="col">State</th><th scope="col">What was said</th></tr></thead>
    <tbody>
      ${walk(plan, item).map((step) => html`<tr key=${step.key} class=${step.state?.state ?? "untouched"}>
        <th scope="row">${zoneName(step.key)}</th>
        <td><${StateMark} state=${step.state?.state} /></td>
        <td>${findingsOn(item, step.key).map(({ id, value }) => html`<p key=${id}>${firstUpper(findingInWords(plan, book, value, [step.key]))}. <small>Severity ${value.severity}, ${book.words.severities.find((one) => one.severity === value.severity)?.words}</small></p>`)}
          ${valueOf(item, `origins/${step.key}`)?.origin && html`<p>${firstUpper(ORIGIN_WORDS[valueOf(item, `origins/${step.key}`).origin] ?? "")}${valueOf(item, `origins/${step.key}`).note ? `: ${valueOf(item, `origins/${step.key}`).note}` : ""}</p>`}
          ${denialsOn(item, step.key).map(({ id, value }) => html`<p key=${id}>Looked for and not seen: ${value.term.replaceAll("-", " ")} <small>${value.light.replaceAll("-", " ")}${step.findings.some((one) => one.value.term === value.term) ? "; but it was found after all" : ""}</small></p>`)}
          ${step.state?.reason ? step.state.reason.replaceAll("-", " ") : ""}${step.state?.light ? html`<small>${step.state.light.replaceAll("-", " ")}</small>` : ""}${step.state?.count ? html`<small> ${step.state.count} counted</small>` : ""}
          <${ZoneHistory} past=${past.filter(({ operation }) => operation.zone === step.key || operation.zones?.includes(step.key))} who=${who} /></td>
      </tr>`)}
    </tbody>
  </table>`;
}

/** @param {RecordCopy} item @param {string} key */
function denialsOn(item, key) {
  return listed(item, "denials/").filter(({ value }) => value.zone === key && !value.withdrawn);
}

/** Who said what of one zone, when. @param {{past: any[], who: (person_id: string) => string}} given */
function ZoneHistory({ past, who }) {
  if (past.length < 2) return null;
  return html`<details><summary>${past.length} looks</summary><ol class="history">${past.map(({ office_seq, operation, outcome }) => html`<li key=${office_seq}>
    <time datetime=${operation.made_at}>${momentWords(operation.made_at)}</time> <strong>${who(operation.made_by)}</strong> ${operationWords(operation)}${outcome === "refused" ? html` <em>refused</em>` : null}</li>`)}</ol></details>`;
}
