/** What the class expects to be stated of the examination itself. */
import type { Described } from "./families.ts";
import { isSpokenAgainst } from "./gone.ts";
import { itOrThem } from "./looked.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { fieldValue, listed } from "./values.ts";

/** What the class expects to be stated of the examination, unless the record says it, or otherwise, by itself. */
export function statementSentences(described: Described): Sentence[] {
  const { plan, record } = described;
  const order = plan.negatives.map(({ negative }) => negative);
  return listed(record, "statements/")
    .filter(({ id, value }) => !value.withdrawn && !isSaidByRecord(described, id))
    .sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id) || a.id.localeCompare(b.id))
    .map(({ id, value }) => sentence(ofEach(described, value.words), [`statements/${id}`]));
}

/** "Examined out of the frames": each of two pictures has one. */
function ofEach(described: Described, words: string) {
  return itOrThem(described) === "them"
    ? words.replace(/\bout of the frame(?=\.?$)/, "out of the frames")
    : words;
}

/** Whether a statement is left to a test or a mark that says it, or gives way to what was found or not examined. */
export function isSaidByRecord(described: Described, id: string) {
  const { plan, record } = described;
  const stated = plan.negatives.find(({ negative }) => negative === id);
  if (!stated) return false;
  const { tests, shows, rules_out, of_marks } = stated;
  const isUnseen = (zone: string) => fieldValue(record, `zones/${zone}`)?.state === "not-examined";
  const isOtherwise = rules_out?.zones.some((zone) =>
    rules_out.terms.some((term) => isSpokenAgainst(described, zone, term)),
  );
  return (
    tests.some((test) => fieldValue(record, `tests/${test}`)) ||
    Boolean(shows?.some(isUnseen) || isOtherwise) ||
    (of_marks === true && listed(record, "marks/").some(({ value }) => !value.withdrawn && value.standing))
  );
}
