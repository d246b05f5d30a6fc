/** An entry's place in the queue: waiting, picked up or described. */

import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { ENTRY_WORDS, type EntryState } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { syncNow } from "../../sync/sync.ts";

/** Move an entry, and on to what is next, if anything is; undo puts it back, where it was done. */
export function moveEntry(item: ItemRecord, state: EntryState, reason = "", next?: () => unknown) {
  const item_id = item.record_id;
  const before = fieldValue(item, "entry") ?? { state: "waiting" as const };
  return attempt(async () => {
    await keep("set_entry", { item_id, state, reason });
    const undo = () => keep("set_entry", { item_id, reason: "", ...before }).then(syncNow);
    sayDone(`${fieldValue(item, "short_description") || "It"}: ${ENTRY_WORDS[state]?.toLowerCase()}.`, undo);
    next?.();
    syncNow();
    return true;
  });
}

/** Whether the address is still this entry's: it goes on before the screen does. */
export function isAt({ record_id }: ItemRecord) {
  return location.hash === `#/entry/${record_id}`;
}
