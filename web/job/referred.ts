/** Things that left with whoever was called, for the lists of what is where and the closing. */
import { sameThing, standingCautions } from "./cautions.ts";
import { isDecided } from "./stopped.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/**
 * Who took it away for good, or where to, in the words of the decision; "" if nobody did. It needs no number and no
 * move for that: by the ledger it may be anywhere.
 */
export function takenAway(record: RecordCopy): string {
  const taken = saidTakenAway(record);
  return taken ? taken.value.place.trim() || "taken away by an authority" : "";
}

/** The decision by which it was taken away. */
export function saidTakenAway(record: RecordCopy) {
  return decisionsOn(record).find(({ value }) => value.decision === "taken-away");
}

function decisionsOn(record: RecordCopy) {
  return standingCautions(record)
    .filter(({ value, id, on }) => value.level === "red" && isDecided(on, `caution-decisions/${id}`))
    .flatMap(({ id, on }) => {
      const name = `caution-decisions/${id}` as const;
      const [value, set] = [fieldValue(on, name), on.fields[name]];
      return value && set ? [{ value, set }] : [];
    });
}

/**
 * Where it went with whoever it was referred to, or who took it away, in the words of the decision. Of what was
 * referred only if it never got a number nor left the table by the ledger, in any record of it. "" of all else.
 */
export function referredTo(record: RecordCopy) {
  const went = takenAway(record);
  if (went) return went;
  const hasMoved = (on: RecordCopy) => fieldValue(on, "whereabouts") || listed(on, "tags/").length;
  if (sameThing(record).some(hasMoved)) return "";
  return (
    decisionsOn(record)
      .find(({ value }) => value.decision === "referred")
      ?.value.place.trim() ?? ""
  );
}
