/** A field of an item in words. */

import type { ComponentChildren } from "preact";
import type { WordsField } from "../../job/fields.ts";
import type { SetItem } from "../../job/operations.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { useField } from "../../parts/use.ts";

type WordsOf = {
  item_id: string;
  field: WordsField & SetItem["field"];
  label: string;
  hint?: string;
  lines?: number;
  max?: number;
  below?: (text: string, write: (text: string) => void) => ComponentChildren;
};

/** One field of an item in words. */
export function Words({ item_id, field, ...more }: WordsOf) {
  const save = (value: string) => keep("set_item", { item_id, field, value });
  return <Typed of={field} into="set_item.value" value={useField(item_id, field)} save={save} {...more} />;
}
