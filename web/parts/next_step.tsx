/** The foot of an item's screen: back to the item, and on to what is still missing. */

import { missing } from "../job/progress.ts";
import type { Plan, RecordCopy } from "../job/types.ts";

/** `here` is this screen's address within the item */
export function NextStep({ item, plan, here }: { item: RecordCopy; plan: Plan | null; here: string }) {
  const address = `#/item/${item.record_id}`;
  const next = missing(plan, item).find(({ at }) => at && at !== here);
  return next ? (
    <>
      <a class="button" href={address} aria-label="Back to the item">
        Item
      </a>
      <a class="button main" href={address + next.at}>
        Next: {next.words}
      </a>
    </>
  ) : (
    <a class="button main" href={address}>
      Back to the item
    </a>
  );
}
