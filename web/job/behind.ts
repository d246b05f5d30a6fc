/** What the record behind another says that the one in front does not: it counts nowhere until somebody answers it. */

import type { FindingValue } from "./fields.ts";
import { zoneAsKept } from "./progress.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, findingsOn, listed } from "./values.ts";
import { isLater } from "./with_owner.ts";
import { countWords, spaced } from "./words.ts";

/** How what only a record behind says begins. */
export const SECOND = "a second record of it says more:";

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
  for (const { term, zone } of foundBehindAlone(front, behind))
    found.push(`${spaced(term)}, ${zoneAsKept(zone)}`);
  return [...new Set(found)];
}

function foundBehindAlone(front: Side, behind: Side): FindingValue[] {
  const { merged } = behind.fields;
  const all = listed(behind, "findings/").map(({ value }) => value);
  return all.filter(({ zone, term, severity, withdrawn }) => {
    const spokenOf = front.fields[`zones/${zone}`];
    if (withdrawn || (merged && spokenOf && isLater(spokenOf, merged))) return false;
    return !findingsOn(front, zone).some(
      ({ value: own }) => own.term === term && (own.severity ?? 0) >= (severity ?? 0),
    );
  });
}

/** What the records behind one found and it did not: a receipt says it, since it is of the one thing. */
export function foundBehind(front: RecordCopy): FindingValue[] {
  return behindIt(front).flatMap((behind) => foundBehindAlone(front, behind));
}

/** All that only they say, in words. */
export function saidBehind(front: RecordCopy): string[] {
  return [...new Set(behindIt(front).flatMap((behind) => saidBehindAlone(front, behind)))];
}

function behindIt(front: RecordCopy): readonly RecordCopy[] {
  return fieldValue(front, "merged")?.into_id ? [] : (front.doubles ?? []);
}
