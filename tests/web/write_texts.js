/** Every text that is printed of the items' records on standard input, for a person to read. */
import { readFileSync } from "node:fs";
import { fiveAnswers } from "../../web/job/answers.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { book } from "./plan_book.js";

for (const item of JSON.parse(readFileSync(0, "utf-8"))) {
  const plan = book.plans[item.fields.class_id?.value];
  const heading = lotHeading(book, item)?.words ?? "Not named";
  const lines = [
    `== ${heading} [${plan?.class_id ?? "no class"}]`,
    asText(lotDescription(plan ?? null, book, item)),
    plan ? asText(conditionParagraph(plan, book, item)) : "",
    ...(plan ? fiveAnswers(plan, book, item) : []).map(
      ({ question, answer }) => `  ${question}\n    ${asText(answer)}`,
    ),
  ];
  process.stdout.write(`${lines.filter(Boolean).join("\n")}\n\n`);
}
