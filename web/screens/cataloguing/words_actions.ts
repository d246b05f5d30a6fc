/** What the desk can do to a sentence; each is kept at once, and what takes one key has a way back. */

import {
  type DeskText,
  isAdded,
  type Line,
  orderAfter,
  TYPED_WHOLE,
  versionOf,
} from "../../job/desk_words.ts";
import type { SentenceVersion } from "../../job/fields.ts";
import type { ItemRecord } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { syncNow } from "../../sync/sync.ts";

export type Actions = ReturnType<typeof actionsOn>;

export function actionsOn({ record_id: item_id }: ItemRecord, text: DeskText, line: Line) {
  const before = line.version ?? versionOf(text.name, line, "as-recorded");
  const put = (version: SentenceVersion) => keep("write_sentence", { item_id, ...version });
  const make = (version: SentenceVersion, done: string) =>
    attempt(async () => {
      await put(version);
      sayDone(done, () => put(before).then(syncNow));
      syncNow();
    });
  const isStruck = before.version === "struck";
  const putBack = () => make(versionOf(text.name, line, "as-recorded"), "As the record has it.");
  return {
    isStruck,
    isRewritten: before.version === "rewritten",
    /** A sentence that was added is taken out, since there is nothing to strike. */
    strike: () =>
      isAdded(line)
        ? make(versionOf(text.name, line, "as-recorded"), "Taken out.")
        : make(versionOf(text.name, line, "struck"), "Struck: it is printed nowhere."),
    putBack,
    keepMine: () => make(versionOf(text.name, line, before.version, before.words), "Yours stays."),
    /** What is typed on was begun against the record of then: a difference stays until somebody decides it. */
    write: (words: string, record_words: string) =>
      put(
        before.version === "rewritten"
          ? { ...before, words }
          : { ...versionOf(text.name, line, "rewritten", words), record_words },
      ),
    move: (by: -1 | 1) => order(item_id, text, orderAfter(text.lines, line, by)),
  };
}

/** Put the sentences of a text into an order; an empty one is the record's. */
export function order(item_id: string, { name }: DeskText, keys: string[]) {
  return attempt(async () => {
    await keep("order_sentences", { item_id, text: name, order: keys });
    syncNow();
  });
}

/** Leave a text that was typed as a whole for the record's sentences. */
export function leaveWhole({ record_id: item_id }: ItemRecord, { name, whole }: DeskText) {
  const set = (value: string) => keep("set_item", { item_id, field: TYPED_WHOLE[name], value }).then(syncNow);
  return attempt(async () => {
    await set("");
    sayDone("The record's sentences are there again.", () => set(whole));
  });
}
