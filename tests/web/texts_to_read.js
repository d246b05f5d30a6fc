/** The texts of one thing for a reader, each under the tag, the class and the name that find it on a screen. */
import { answerInWords } from "../../web/job/answer_words.ts";
import { fiveAnswers } from "../../web/job/answers.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { tagsOf } from "../../web/job/progress.ts";
import { asText } from "../../web/job/sentences.ts";
import { shown } from "../../web/job/tag.ts";
import { fieldValue } from "../../web/job/values.ts";
import { book } from "./plan_book.js";

export function textsToRead(item) {
  const plan = book.plans[fieldValue(item, "class_id")];
  const of = [
    tagsOf(item).map(shown).join(", ") || "no tag",
    plan?.name ?? "no class",
    fieldValue(item, "short_description") || "not named yet",
  ].join(" | ");
  const texts = [
    ["Heading", lotHeading(book, item)?.words ?? ""],
    ["Description", asText(lotDescription(plan ?? null, book, item))],
    ["Condition", plan ? asText(conditionParagraph(plan, book, item)) : ""],
    ["What bidders ask", (plan ? fiveAnswers(plan, book, item) : []).map(asAsked).join("\n")],
  ];
  const written = texts.filter(([, words]) => words);
  return [`== ${of}`, ...written.map(([text, words]) => `-- ${text} | ${of}\n${words}`)].join("\n");
}

function asAsked({ question, answer }) {
  return `  ${question}\n    ${answerInWords(answer)}`;
}
