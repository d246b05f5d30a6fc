/** What the record behind another says that the one in front does not: it counts nowhere until somebody answers it. */

import { zoneName } from "./progress.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, findingsOn, listed } from "./values.ts";
import { isLater } from "./with_owner.ts";
import { countWords, spaced } from "./words.ts";

type Side = Pick<RecordCopy, "fields">;

/**
 * Each difference in words. A count is answered by counting once it is known that they are one; a finding by the same
 * one on the record in front, as bad or worse, or by speaking of its zone since.
 */
export function saidBehindAlone(front: Side, behind: Side): string[] {
  const { merged } = behind.fields;
  const found: string[] = [];
  const [here, there] = [fieldValue(front, "pieces") ?? 1, fieldValue(behind, "pieces")];
  const counted = front.fields.pieces;
  if (there && there !== here && !(merged && counted && isLater(counted, merged)))
    found.push(`${countWords(there, "piece")} counted there, and ${here} here`);
  for (const { value } of listed(behind, "findings/")) {
    const { zone, term, severity } = value;
    if (value.withdrawn) continue;
    const spokenOf = front.fields[`zones/${zone}`];
    if (merged && spokenOf && isLater(spokenOf, merged)) continue;
    const isHere = findingsOn(front, zone).some(
      ({ value: own }) => own.term === term && (own.severity ?? 0) >= (severity ?? 0),
    );
    if (!isHere) found.push(`${spaced(term)}, ${zoneName(zone)}`);
  }
  return [...new Set(found)];
}
