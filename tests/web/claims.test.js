/** Nothing that the app prints from a record promises that a thing is safe, real or legal, whatever stands on it. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { cautionMark } from "../../web/job/cautions.ts";
import { endWords, INCIDENT_ENDS } from "../../web/job/incidents.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { keysOf } from "../../web/job/progress.ts";
import { receiptLine } from "../../web/job/receipt.ts";
import { asText } from "../../web/job/sentences.ts";
import { stillWords, stopsOn } from "../../web/job/stopped.ts";
import { differencesOn } from "./differences_of.js";
import { book } from "./plan_book.js";
import { sampled } from "./samples.js";

const claims = JSON.parse(readFileSync(new URL("../../fixtures/claims.json", import.meta.url), "utf-8"));
const DECISIONS = [null, "cleared", "isolated", "referred", "taken-away", "returned"];
const CLAIM = new RegExp(`\\b(${claims.words.join("|")})\\b`, "i");
const DENIED = new RegExp(`\\b(${claims.denied_by.join("|")})\\b`, "i");

function claimsIn(text) {
  return (text.match(/[^.;:!?]+[.;:!?]?/g) ?? []).filter((sentence) => {
    const word = CLAIM.exec(sentence);
    const before = word
      ? sentence.slice(0, word.index).trim().split(/\s+/).slice(-claims.near).join(" ")
      : "";
    return word && !sentence.endsWith("?") && !DENIED.test(before);
  });
}

/** All that is said and printed of a record: paragraph, lot, the five answers, label, receipt, bar, the closing. */
function printed(plan, record) {
  const sentences = [
    ...conditionParagraph(plan, book, record),
    lotHeading(book, record),
    ...lotDescription(plan, book, record),
    ...fiveAnswers(plan, book, record).flatMap(({ answer }) => answer),
  ];
  const item = { ...record, kind: "item", record_id: "i", visit_id: "v", day_id: "d" };
  const day = { kind: "day", record_id: "d", tables: [], fields: {}, disagreements: [] };
  const found = differencesOn({ day, visits: [], items: [item], containers: [], plan: () => plan });
  return [
    asText(sentences.filter(Boolean)),
    `${cautionMark([record])}.`,
    `${receiptLine(item).words}.`,
    stillWords(stopsOn(item)),
    ...found.map(({ words }) => `${words}.`),
  ].join(" ");
}

test("a promise is told from its denial", () => {
  assert.equal(claimsIn("Cleared. It is safe to handle.").length, 1);
  assert.equal(claimsIn("Never say that it is safe.").length, 0);
});

test("how an incident ended promises nothing, whichever end is chosen", () => {
  for (const [ended, words] of INCIDENT_ENDS) {
    assert.deepEqual(claimsIn(`${words}.`), []);
    assert.deepEqual(claimsIn(endWords({ ended, settled_by: "Winifred", present: "", words: "" })), []);
  }
});

test("whatever caution stands or was decided, with every test, denial and zone said, nothing is promised", () => {
  const plans = Object.values(book.plans).filter((plan) => !plan.refer_only);
  const all = book.cautions.cautions
    .flatMap((row) => DECISIONS.map((decision) => ({ row, decision })))
    .map((one, place) => ({ ...one, plan: plans[place % plans.length] }));
  const cases = sampled(all, 4, ({ plan }) => plan.class_id);
  let said = 0;
  for (const { row, decision, plan } of cases) {
    const values = {
      short_description: "thing",
      "cautions/1": {
        hazard: row.hazard,
        level: row.level,
        sign: row.sign,
        zone: null,
        called: "",
        place: "",
      },
    };
    if (decision)
      values["caution-decisions/1"] = {
        decision,
        decided_by: "the police",
        cleared_for: "description",
        place: "",
        paper_given: true,
        note: "",
      };
    for (const key of plan.zones.flatMap(keysOf))
      values[`zones/${key}`] = { state: "clear", reason: null, light: "lamp", count: null };
    for (const { test: name } of plan.tests)
      values[`tests/${name}`] = { result: "works", why: null, note: "" };
    for (const one of plan.negatives)
      for (const zone of one.zones)
        for (const term of one.terms)
          values[`denials/${zone}/${term}`] = { zone, term, light: one.lights[0], withdrawn: false };
    const record = {
      fields: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, { value }])),
      disagreements: [],
    };
    const text = printed(plan, record);
    assert.deepEqual(claimsIn(text), [], `${row.hazard} ${decision}: ${text}`);
    assert.ok(
      !text.includes(row.subject) && !text.includes(row.caution),
      "what it may be is never printed of it",
    );
    said += plan.tests.filter(
      (one) => one.said && text.toLowerCase().includes(one.said.toLowerCase()),
    ).length;
  }
  assert.ok(said > cases.length, "what was tried is in the texts");
});
