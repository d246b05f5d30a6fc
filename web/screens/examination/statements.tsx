/** What may be stated of the examination itself, if it is true. */

import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt } from "../../parts/notices.tsx";

export function Statements({ item, plan }: { item: ItemRecord; plan: Plan }) {
  const item_id = item.record_id;
  const statements = plan.negatives.filter(({ zones }) => !zones.length);
  if (!statements.length) return null;
  return (
    <section>
      <h2>State if it is true</h2>
      <ul class="rows">
        {statements.map(({ negative, words, needs }) => {
          const statement = fieldValue(item, `statements/${negative}`);
          const stands = Boolean(statement && !statement.withdrawn);
          return (
            <li key={negative}>
              <button
                type="button"
                class="row"
                aria-pressed={stands}
                onClick={() =>
                  attempt(() =>
                    keep("record_statement", { item_id, statement: negative, words, withdrawn: stands }),
                  )
                }
              >
                <span class="mark" aria-hidden="true">
                  {stands ? "✓" : "○"}
                </span>
                <span class="what">
                  {firstUpper(words)}
                  <small>Needs: {needs}</small>
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
