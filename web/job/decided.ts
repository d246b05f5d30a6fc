/** What whoever was called decided of a thing that a red caution stops. */

import { standingCautions } from "./cautions.ts";
import type { CautionDecision } from "./fields.ts";
import { isDecided } from "./stopped.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

export const DECISIONS: readonly (readonly [CautionDecision["decision"], string])[] = [
  ["cleared", "Cleared to go on"],
  ["isolated", "Set apart, stays held"],
  ["referred", "Referred, stays held"],
  ["taken-away", "Taken away by an authority"],
  ["returned", "Goes home with the owner"],
];

/** What was decided on all that stops it, as the owner may read it: not where it is, nor by whom. "" until then. */
export function decidedWords(record: RecordCopy): string {
  const stops = standingCautions(record).filter(({ value }) => value.level === "red");
  if (!stops.every(({ id, on }) => isDecided(on, `caution-decisions/${id}`))) return "";
  const decided = stops.flatMap(({ id, on }) => fieldValue(on, `caution-decisions/${id}`) ?? []);
  const words = DECISIONS.filter(([key]) => decided.some(({ decision }) => decision === key)).map(
    ([, said]) => said,
  );
  if (!words.length) return "";
  const isOnPaper = decided.every(({ paper_given }) => paper_given);
  return `${words.join("; ")}. ${isOnPaper ? "A paper of it was given." : "The paper of it is still to be given."}`;
}
