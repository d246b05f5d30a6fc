/** Object ID: what answers each category of the standard is in the texts that are printed, because it is on record. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { book } from "./plan_book.js";

const { class_id, categories } = JSON.parse(
  readFileSync(new URL("../../fixtures/object-id.json", import.meta.url), "utf-8"),
);
const plan = book.plans[class_id];

/** The texts of a record that answers these categories. */
function printed(answered) {
  const fields = answered.flatMap((one) => one.fields.map(([name, value]) => [name, { value }]));
  const record = { fields: Object.fromEntries(fields), disagreements: [] };
  const heading = lotHeading(book, record);
  return asText([
    ...(heading ? [heading] : []),
    ...lotDescription(plan, book, record),
    ...conditionParagraph(plan, book, record),
  ]);
}

for (const one of categories) {
  test(`${one.category}: what is on record for it is printed, and only then`, () => {
    const [all, others] = [printed(categories), printed(categories.filter((other) => other !== one))];
    for (const words of one.printed) {
      assert.ok(all.includes(words), `“${words}” is not in: ${all}`);
      assert.ok(!others.includes(words), `“${words}” comes from something else: ${others}`);
    }
  });
}
