/** What works: the class's function tests. When a test must not be made is read before its result can be given. */
import { useState } from "preact/hooks";
import { isTest } from "../../job/progress.js";
import { valueOf } from "../../job/record.js";
import { firstUpper } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { Choice, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { NextStep } from "../../parts/next_step.js";
import { attempt } from "../../parts/notices.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";

/** @import { FunctionTest, PlanBook, RecordCopy } from "../../job/types.js" */

/** @type {[string, string][]} */
export const RESULTS = [["works", "Works"], ["works-in-part", "Works in part"], ["no-response", "No response"], ["not-done", "Not done"]];

/** A light is used or not; what it showed stands with the zones. @type {[string, string][]} */
const USED = [["works", "Used"], ["works-in-part", "Used in part"], ["not-done", "Not used"]];

/** @param {{item_id: string}} given */
export default function Works({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book) return html`<${Frame} title="What works" back=${back}><p>Reading …</p><//>`;
  const tests = plan?.tests.filter(isTest) ?? [];
  const never = plan?.tests.filter((test) => !isTest(test)) ?? [];
  const left = tests.filter(({ test }) => !valueOf(item, `tests/${test}`)).length;
  const statements = plan?.negatives.filter(({ zones }) => !zones.length) ?? [];
  const skip = () => attempt(async () => {
    for (const { test } of tests) {
      if (!valueOf(item, `tests/${test}`)) await keep("record_test", { item_id, test, result: "not-done", why: "no-time", note: "" });
    }
  });
  return html`<${Frame} title=${left ? `What works: ${left} left` : "What works"} back=${back} item=${item}
    action=${html`${left > 0 && html`<button type="button" onClick=${skip}>Rest not done: no time</button>`}<${NextStep} item=${item} plan=${plan} here="/works" />`}>
    ${never.length > 0 && html`<section class="caution"><h2>Never at the table</h2><ul>${never.map((test) => html`<li key=${test.test}>${test.how}</li>`)}</ul></section>`}
    ${tests.map((test) => html`<${Test} key=${test.test} test=${test} item=${item} book=${book} />`)}
    ${statements.length > 0 && html`<section>
      <h2>State if it is true</h2>
      <ul class="rows">${statements.map(({ negative, words, needs }) => {
        const said = valueOf(item, `statements/${negative}`);
        const stands = Boolean(said && !said.withdrawn);
        return html`<li key=${negative}><button type="button" class="row" aria-pressed=${stands} onClick=${() => attempt(() => keep("record_statement", { item_id, statement: negative, words, withdrawn: stands }))}>
          <span class="mark" aria-hidden="true">${stands ? "✓" : "○"}</span><span class="what">${firstUpper(words)}<small>Needs: ${needs}</small></span></button></li>`;
      })}</ul>
    </section>`}
  <//>`;
}

/** @param {{test: FunctionTest, item: RecordCopy, book: PlanBook}} given */
function Test({ test, item, book }) {
  const done = valueOf(item, `tests/${test.test}`);
  const [asking, setAsking] = useState(false);
  const record = (/** @type {any} */ patch) => keep("record_test", { item_id: item.record_id, test: test.test, ...(done ? {} : { why: "", note: "" }), ...patch }, { amend: true });
  const choose = async (/** @type {string} */ result) => {
    if (result === "not-done" && !done?.why) return setAsking(true);
    setAsking(false);
    return record({ result, why: result === "not-done" ? done.why : "" });
  };
  return html`<article class="finding">
    <h3>${test.test.replaceAll("-", " ")}</h3>
    <p class="never"><strong>Not when:</strong> ${test.never_when}.</p>
    <p class="hint">${firstUpper(test.how)}.</p>
    <${Choice} label=${`Result of ${test.test.replaceAll("-", " ")}`} hideLabel=${true} options=${book.words.lights.some(({ light }) => light === test.test) ? USED : RESULTS} value=${asking ? "not-done" : done?.result} choose=${choose} />
    ${asking && html`<${Choice} label="Why not?" options=${book.words.reasons.filter(({ reason }) => reason !== "absent").map(({ reason, words }) => [reason, words])} value=${done?.why}
      choose=${(/** @type {string} */ why) => { setAsking(false); return record({ result: "not-done", why }); }} />`}
    ${done?.result === "not-done" && !asking && html`<p>${book.words.reasons.find(({ reason }) => reason === done.why)?.words ?? done.why} <button type="button" class="quiet" onClick=${() => setAsking(true)}>Another reason</button></p>`}
    ${done && html`<${Typed} of=${test.test} label="Note" value=${done.note} save=${(/** @type {string} */ note) => record({ note })} />`}
  </article>`;
}
