/** What came to be otherwise after an entry was described. */

import { changedSinceDescribed } from "../../job/described.ts";
import type { Logged } from "../../job/desk.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldWords } from "../../job/value_words.ts";
import { listsOf } from "../../local/plan_book.ts";

/** What was said after it was described: its words were made without that. */
export function ChangedSince({ item, past }: { item: ItemRecord; past: readonly Logged[] }) {
  const names = changedSinceDescribed(item, past);
  if (!names.length) return null;
  const words = [...new Set(names.map((name) => fieldWords(name, listsOf(item))))];
  return (
    <p class="bar wrong">
      <strong>Changed since it was described:</strong> {words.join(", ")}. Read its words again, then press
      “Described”.
    </p>
  );
}
