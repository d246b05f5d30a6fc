/** Records as plain text, for whoever has to enter them anew: everything that stands on them. */
import { dayWords } from "./day_facts.ts";
import type { RecordCopy, VisitRecord } from "./types.ts";
import { fieldWords, valueWords } from "./value_words.ts";
import { fieldValue, ownerWords } from "./values.ts";
import { firstUpper } from "./words.ts";

/** What a record is called: its ticket and whose it is, its description, or its number. */
export function recordTitle(record: RecordCopy): string {
  switch (record.kind) {
    case "day":
      return dayWords(record);
    case "visit":
      return visitTitle(record);
    case "container":
      return `Container ${record.number}`;
    default:
      return `Item: ${fieldValue(record, "short_description") || "not named yet"}`;
  }
}

function visitTitle(visit: VisitRecord): string {
  const whose = ownerWords(visit);
  return [`Visit ${fieldValue(visit, "ticket") || "without a ticket"}`, whose].filter(Boolean).join(": ");
}

/**
 * The records under which the others stand: visits, and things whose visit is not among them; days are told by
 * themselves.
 */
export function mainOf(records: readonly RecordCopy[]): RecordCopy[] {
  const visits = new Set(records.flatMap((record) => (record.kind === "visit" ? [record.record_id] : [])));
  return records.filter(
    (record) => record.kind !== "day" && !(record.kind === "item" && visits.has(record.visit_id)),
  );
}

/** Days first, then each visit with its items, then containers; a line a field. */
export function recordsText(records: readonly RecordCopy[]): string {
  const of = (kind: RecordCopy["kind"]) => records.filter((record) => record.kind === kind);
  const itemsOf = (visit_id: string) =>
    of("item").filter((item) => item.kind === "item" && item.visit_id === visit_id);
  const visits = new Set(of("visit").map(({ record_id }) => record_id));
  const alone = of("item").filter((item) => item.kind === "item" && !visits.has(item.visit_id));
  const inOrder = [
    ...of("day"),
    ...of("visit").flatMap((visit) => [visit, ...itemsOf(visit.record_id)]),
    ...alone,
    ...of("container"),
  ];
  return inOrder.map(recordText).join("\n\n");
}

function recordText(record: RecordCopy): string {
  const lines = Object.entries(record.fields)
    .map(([name, set]) => `  ${firstUpper(fieldWords(name))}: ${plainly(set.value, name)}`)
    .sort();
  return [recordTitle(record), ...lines].join("\n");
}

/** A value in words; of a signature, that there is one. */
function plainly(value: unknown, name: string): string {
  if (typeof value === "object" && value !== null && "strokes" in value)
    return `signed${"signed_by" in value && value.signed_by ? ` by ${value.signed_by}` : ""}`;
  return valueWords(value, name);
}
