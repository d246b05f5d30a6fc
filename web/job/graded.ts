/** How grave faults were found, beside texts that do not say so. */

import { type Lists, termWords } from "./list_words.ts";
import { zoneName } from "./progress.ts";
import type { RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

/** How grave a finding is, in a word; nobody gave that of one from another office. */
export function severityWords({ book }: Pick<Lists, "book">, severity: number | null | undefined): string {
  return book?.words.severities.find((row) => row.severity === severity)?.words ?? "severity not given";
}

/** From this severity on a bidder asks how grave it is. */
const GRADED = 2;

/**
 * The faults that sentences rest on, with how grave each was found: a text says so of a slight one, and of a graver one
 * only beside its measure.
 */
export function gradedWords(lists: Lists, item: RecordCopy, said: readonly { from: string[] }[]): string {
  const names = new Set(said.flatMap(({ from }) => from));
  return listed(item, "findings/")
    .filter(({ id, value }) => names.has(`findings/${id}`) && !value.withdrawn && value.severity >= GRADED)
    .sort((a, b) => b.value.severity - a.value.severity)
    .map(
      ({ value }) =>
        `${termWords(lists, value.term)}, ${zoneName(value.zone)}: ${severityWords(lists, value.severity)}`,
    )
    .join("; ");
}
