/** What waits on this device to be sent. */

import type { Operation } from "../../job/types.ts";
import { waiting } from "../../local/memory.ts";
import { clockWords } from "../../parts/moments.ts";
import { toldHere } from "./told_here.ts";

const LONG_LIST = 30;

export function WaitingHere() {
  // What waits for something else is named first: it does not go by itself.
  const operations = [...waiting.value].sort((a, b) => Number(!a.waits) - Number(!b.waits));
  if (!operations.length) return null;
  return (
    <section>
      <h2>
        Waiting to be sent <span class="count">{operations.length}</span>
      </h2>
      <ul class="lines">
        {operations.slice(0, LONG_LIST).map((op) => (
          <li key={op.operation_id}>
            <a href={addressOf(op)}>{`${clockWords(op.made_at)} ${toldHere(op)}`}</a>
            {op.waits && <small class="waits">waits for something else: {op.waits.detail}</small>}
          </li>
        ))}
      </ul>
      {operations.length > LONG_LIST && <p class="hint">and {operations.length - LONG_LIST} more</p>}
    </section>
  );
}

/** The screen of what an operation is about. */
export function addressOf(op: Operation) {
  if ("item_id" in op) return `#/item/${op.item_id}`;
  return "visit_id" in op ? `#/visit/${op.visit_id}` : "#/day";
}
