/** What the owner told of a finding: their words, which stand apart from the house's, and can be put right. */

import type { FindingValue } from "../job/fields.ts";
import type { ItemRecord } from "../job/types.ts";
import { fieldValue, hearsOwner } from "../job/values.ts";
import { keep } from "../local/outbox.ts";
import { Typed } from "./controls.tsx";
import { useDevice, useRecord } from "./use.ts";

/** `label` names the finding where several stand under each other. */
export function ToldNote({
  id,
  item,
  value,
  label = "Told by the owner, not checked",
}: {
  id: string;
  item: ItemRecord;
  value: FindingValue;
  label?: string;
}) {
  const { record_id: item_id, visit_id } = item;
  const visit = useRecord("visit", visit_id);
  const device = useDevice();
  const field = `finding-notes/${id}` as const;
  const told = fieldValue(item, field);
  if (value.certainty !== "told" && told === undefined) return null;
  if (!device || !hearsOwner(visit, device))
    return <p>What the owner tells is written at their table, the door or the desk.</p>;
  return (
    <Typed
      of={field}
      label={label}
      hint="Their words. It is never printed as ours"
      into="correct_told_note.value"
      value={told}
      save={(value) => keep("correct_told_note", { item_id, finding_id: id, value })}
      lines={2}
    />
  );
}
