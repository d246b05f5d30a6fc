/** What is on record of a thing and forbids a test on it, as its plan has it; cautions forbid by themselves. */
import { seenFindings } from "./families.ts";
import { zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { isSeen } from "./there.ts";
import type { FunctionTest, NeverBeside, Plan, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

export function isForbiddenBeside(plan: Plan, { never_beside = [] }: FunctionTest, record: RecordCopy) {
  return never_beside.some((beside) => stands(plan, beside, record));
}

/** Whether a thing has nothing of what a test is made through: no lamp goes into a head of cloth. */
export function hasNoWay(plan: Plan, { never_beside = [] }: FunctionTest, record: RecordCopy) {
  return never_beside.some((beside) => beside.when === "none" && stands(plan, beside, record));
}

function stands(plan: Plan, { zones = [], terms = [], when = "found" }: NeverBeside, record: RecordCopy) {
  if (when === "found")
    return seenFindings(record).some(
      ({ value }) => terms.includes(value.term) && (!zones.length || zones.includes(zoneOf(value.zone))),
    );
  const keys = plan.zones.filter(({ zone }) => zones.includes(zone)).flatMap(keysOf);
  // A tick alone may be of what never was there.
  if (when === "there") return keys.some((key) => isSeen(record, key));
  const notExamined = keys.flatMap((key) => {
    const state = fieldValue(record, `zones/${key}`);
    return state?.state === "not-examined" ? [state.reason] : [];
  });
  if (when === "unseen") return notExamined.some((reason) => reason !== "not-applicable");
  return notExamined.length === keys.length && notExamined.every((reason) => reason === "not-applicable");
}
