/** What is printed of a record that is written short, as text. */
import { fiveAnswers } from "../../web/job/answers.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";

export const paragraph = (class_id, short) =>
  asText(conditionParagraph(book.plans[class_id], book, recordOf(written(book.plans[class_id], short))));
export const lot = (class_id, values) =>
  asText(lotDescription(book.plans[class_id], book, recordOf({ short_description: "thing", ...values })));
export function answer(class_id, begins, short) {
  const plan = book.plans[class_id];
  const answers = fiveAnswers(plan, book, recordOf(written(plan, short)));
  return asText(answers.find(({ question }) => question.startsWith(begins)).answer);
}
export const one = (zone, term, more = {}) => ({ findings: [{ zone, term, severity: 2, ...more }] });
