/** The foot of an item's screen: back to the item, and on to what is still missing. */

import type { ItemRecord } from "../job/types.ts";
import { gapsOf } from "./gaps.ts";

/** `here` is this screen's address within the item. */
export function NextStep({ item, here }: { item: ItemRecord; here: string }) {
  const address = `#/item/${item.record_id}`;
  const next = gapsOf(item).find(({ at }) => at && at !== here);
  if (!next)
    return (
      <a class="button main" href={address}>
        Back to the item
      </a>
    );
  return (
    <>
      <a class="button" href={address} aria-label="Back to the item">
        Item
      </a>
      <a class="button main" href={address + next.at}>
        Next: {next.words}
      </a>
    </>
  );
}
