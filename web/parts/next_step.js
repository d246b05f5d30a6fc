/** The foot of an item's screen: back to the item, and on to what is still missing. */
import { missing } from "../job/progress.js";
import { html } from "./html.js";

/** @param {{item: import("../job/types.js").RecordCopy, plan: import("../job/types.js").Plan|null, here: string}} given `here` is this screen's address within the item */
export function NextStep({ item, plan, here }) {
  const address = `#/item/${item.record_id}`;
  const next = missing(plan, item).find(({ at }) => at && at !== here);
  return next
    ? html`<a class="button" href=${address} aria-label="Back to the item">Item</a><a class="button main" href=${address + next.at}>Next: ${next.words}</a>`
    : html`<a class="button main" href=${address}>Back to the item</a>`;
}
