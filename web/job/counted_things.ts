/** What was counted of a thing, as a receipt says it, with no plan at hand. */

import { sameThing } from "./cautions.ts";
import { COUNTED } from "./receipt_counted.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

const NAMES = Object.values(COUNTED).flat().join("|");
/** The part of a line that says it. */
export const COUNTS = new RegExp(`^\\d+ (?:${NAMES})(?:, \\d+ (?:${NAMES}))* counted$`);

/**
 * "62 letters or documents, 58 envelopes counted"; "" if nothing was. What the record in front says of a count holds.
 */
export function countedThings(item: RecordCopy): string {
  const said = Object.entries(COUNTED).flatMap(([measure, [one, several]]) => {
    const values = sameThing(item).map((record) => fieldValue(record, `measures/${measure}`));
    const count = values.find((value) => value !== undefined)?.value;
    return count ? `${count} ${count === 1 ? one : several}` : [];
  });
  return said.length ? `${said.join(", ")} counted` : "";
}
