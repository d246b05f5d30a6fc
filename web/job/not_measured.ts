/** That no size of a thing is on record: it is the first that who cannot see it asks for. */
import { type Sentence, sentence } from "./sentences.ts";
import type { Plan, RecordCopy } from "./types.ts";
import { SIZE } from "./unmeasured.ts";
import { fieldValue, listed } from "./values.ts";

/** What was counted is no size. */
const COUNT = "n";
export const NOT_MEASURED = "not-measured";

/** Of what nobody examined all that is left open is said otherwise; who typed its size has told it. */
export function notMeasured(plan: Plan | null, record: RecordCopy): Sentence[] {
  const isExamined = listed(record, "zones/").some(({ value }) => value.state !== "not-examined");
  const isMeasured = listed(record, "measures/").some(({ value }) => value.unit !== COUNT && value.value);
  const isTyped = SIZE.test(`${fieldValue(record, "short_description")} ${fieldValue(record, "seen_words")}`);
  const hasSize = plan?.measures.some(({ unit }) => unit !== COUNT);
  if (!hasSize || !isExamined || isMeasured || isTyped) return [];
  return [sentence("not measured", [], [NOT_MEASURED])];
}
