/** What the desk writes of an item: heading, description, condition. */

import { lotDescription, lotHeading } from "../../job/lot.ts";
import { conditionParagraph } from "../../job/paragraph.ts";
import { asText } from "../../job/sentences.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { syncNow } from "../../sync/sync.ts";

const FIELDS = ["heading", "lot_description", "condition_words"] as const;
type Field = (typeof FIELDS)[number];
const LONG = 6; // lines

type Wanted = { item: ItemRecord; plan: Plan | null; book: PlanBook | null };

export function DesksWords({ item, plan, book }: Wanted) {
  const set = (field: Field) => (value: string) =>
    keep("set_item", { item_id: item.record_id, field, value });
  const written = FIELDS.some((field) => fieldValue(item, field));
  return (
    <section class={written ? "" : "on-screen"}>
      <h3>The desk's words</h3>
      {FIELDS.map((field) => (
        <p key={field} class="print-only">
          {fieldValue(item, field)}
        </p>
      ))}
      <Typed
        label="Heading"
        into="set_item.value"
        value={fieldValue(item, "heading")}
        save={set("heading")}
      />
      <Typed
        label="Lot description"
        into="set_item.value"
        value={fieldValue(item, "lot_description")}
        save={set("lot_description")}
        lines={LONG}
      />
      <Typed
        label="Condition"
        into="set_item.value"
        value={fieldValue(item, "condition_words")}
        save={set("condition_words")}
        lines={LONG}
      />
      {book && <TakeWords item={item} plan={plan} book={book} />}
    </section>
  );
}

/** Put the record's words where the desk has written none; what it has written stays. */
function TakeWords({ item, plan, book }: { item: ItemRecord; plan: Plan | null; book: PlanBook }) {
  const offered: [Field, string][] = [
    ["heading", lotHeading(book, item)?.words ?? ""],
    ["lot_description", asText(lotDescription(plan, book, item))],
    ["condition_words", plan ? asText(conditionParagraph(plan, book, item)) : ""],
  ];
  const free = offered.filter(([field, words]) => words && !fieldValue(item, field));
  if (!free.length) return null;
  const take = () =>
    attempt(async () => {
      for (const [field, value] of free) await keep("set_item", { item_id: item.record_id, field, value });
      sayDone("The record's words are there to work on.");
      syncNow();
    });
  return (
    <button type="button" onClick={take}>
      Begin with the record's words
    </button>
  );
}
