/** What the words of a name call for, below the field in which they are typed: another class, a caution. */

import { cautionsNamed, otherClassNamed } from "../../job/called_for.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { recordOf } from "../../local/memory.ts";
import { usePlanBook, useSelected } from "../../parts/use.ts";
import { offeredClass } from "./item_class.tsx";

export function CalledFor({ item_id, text }: { item_id: string; text: string }) {
  const book = usePlanBook();
  const class_id = useSelected(() => fieldValue(recordOf("item", item_id), "class_id") ?? "", [item_id]);
  const named = useSelected(
    () => (book?.cautions ? cautionsNamed(book.cautions, recordOf("item", item_id) ?? undefined, text) : []),
    [item_id, book, text],
  );
  const other = book && otherClassNamed(book, class_id, text);
  return (
    <>
      {other && (
        <p class="bar">
          “{firstUpper(other.word)}”: such things are among{" "}
          <button
            type="button"
            class="quiet"
            onClick={() => {
              offeredClass.value = { item_id, class_id: other.class_id };
            }}
          >
            {book.classes[other.class_id]?.words}
          </button>
        </p>
      )}
      {named.map(({ row, word }) => (
        <p key={row.hazard} class={`bar caution-bar ${row.level === "red" ? "amber" : row.level}`}>
          “{firstUpper(word)}”: is it one of these?{" "}
          <a href={`#/item/${item_id}/stop`}>{row.name}: what to do is under Stop</a>
        </p>
      ))}
    </>
  );
}
