/** What a thing is called by its plain noun, or by its class, where a term is said of the thing itself. */
import type { Described } from "./families.ts";
import { thingCalled } from "./typed_names.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

/** "the quilt" by its name; of what has no plain noun, `otherwise`. */
export function wholeInWords({ book, record }: Described, otherwise: string = "item as a whole") {
  return `the ${itCalled(book, record) ?? otherwise}`;
}

/** What it is by its name, else by its class. */
export function itCalled(book: PlanBook, record: RecordCopy, plan: Plan | null = null): string | null {
  const named = thingCalled(fieldValue(record, "short_description") ?? "", book.print.english);
  return named ?? plan?.thing ?? null;
}
