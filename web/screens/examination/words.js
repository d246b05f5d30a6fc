/** The item in words: what the record says, read aloud and read back before the owner goes. */
import { Condition } from "../../parts/condition.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { InWords } from "../../parts/in_words.js";
import { NextStep } from "../../parts/next_step.js";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.js";

/** @param {{item_id: string}} given */
export default function Words({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book) return html`<${Frame} title="In words" back=${back}><p>Reading …</p><//>`;
  return html`<${Frame} title="In words" back=${back} item=${item} action=${html`<${NextStep} item=${item} plan=${plan} here="/words" />`}>
    <section><h2>Overall condition</h2><${Condition} plan=${plan} item=${item} change=${true} /></section>
    <${InWords} plan=${plan} item=${item} book=${book} />
  <//>`;
}
