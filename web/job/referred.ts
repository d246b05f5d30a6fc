/** Things that left with whoever was called, for the lists of what is where and the closing. */
import { sameThing, standingCautions } from "./cautions.ts";
import { isDecided } from "./stopped.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/**
 * Where it went with whoever it was referred to, in the words of the decision: of what never got a number nor left the
 * table by the ledger, in any record of it. "" of all else.
 */
export function referredTo(record: RecordCopy) {
  const hasMoved = (on: RecordCopy) => fieldValue(on, "whereabouts") || listed(on, "tags/").length;
  if (sameThing(record).some(hasMoved)) return "";
  const decisions = standingCautions(record)
    .filter(({ value, id, on }) => value.level === "red" && isDecided(on, `caution-decisions/${id}`))
    .map(({ id, on }) => fieldValue(on, `caution-decisions/${id}`));
  return decisions.find((decided) => decided?.decision === "referred")?.place.trim() ?? "";
}
