/** What was decided of a caution is printed: a thing is held, left to others, going back, or cleared for so much. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { decidedWords } from "../../web/job/decided.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const raised = (level, sign, zone = null) => ({ hazard: "H90", level, sign, zone, called: "", place: "" });
const decided = (decision, cleared_for = "") => ({
  ...{ decision, cleared_for, decided_by: "SECRET officer", place: "SECRET place" },
  ...{ paper_given: true, note: "SECRET note" },
});
const tin = (decision) => ({ "cautions/1": raised("red", "brass cases"), "caution-decisions/1": decision });

test("what was referred or goes back is not said to be held until it is cleared", () => {
  const said = (decision, class_id = "clock") => paragraph(class_id, { facts: tin(decision) });
  assert.equal(said(decided("referred")), "Referred elsewhere, and not offered; noted: brass cases.");
  assert.equal(said(decided("returned")), "Going back, and not offered; noted: brass cases.");
  assert.equal(said(decided("isolated")), "Held back, and not offered until cleared; noted: brass cases.");
  assert.match(
    said(decided("referred"), "arms"),
    /^Condition not examined: left to a specialist\. Referred elsewhere/,
  );
});

test("of what was stopped before anybody looked it is said that it was not examined", () => {
  const { free } = book.plans;
  const untouched = { untouched: free.zones.map(({ zone }) => zone) };
  const of = (short) => paragraph("free", { ...short, facts: tin(decided("referred")) });
  assert.equal(
    of(untouched),
    "Condition not examined. Referred elsewhere, and not offered; noted: brass cases.",
  );
  assert.equal(of({}), "Referred elsewhere, and not offered; noted: brass cases.");
});

test("a clearance is printed with its limits, and nobody by name", () => {
  const cleared = (words) =>
    paragraph("clock", {
      facts: { "cautions/1": raised("amber", "A blade"), "caution-decisions/1": decided("cleared", words) },
    });
  assert.match(
    cleared("a description in words; no sale before it was seen drawn"),
    /\. Noted: a blade; cleared only for a description in words; no sale before it was seen drawn\. Examined with/,
  );
  for (const words of ["", "sale", "taking in, description, sale", "description and sale"])
    assert.doesNotMatch(cleared(words), /leared|blade/, words);
  assert.doesNotMatch(cleared("a description"), /SECRET/);
});

test("where two people decided otherwise, it is held until somebody has settled it", () => {
  const record = recordOf(written(book.plans.clock, { facts: tin(decided("cleared", "a description")) }));
  const disagreement = {
    ...{ disagreement_id: "1", field: "caution-decisions/1", settled: null },
    kept: { value: decided("cleared") },
    other: { value: decided("isolated") },
  };
  const words = conditionParagraph(book.plans.clock, book, { ...record, disagreements: [disagreement] });
  assert.deepEqual(
    words.map((one) => one.words),
    ["Held back, and not offered until cleared; noted: brass cases."],
  );
});

test("two signs are two, and no sign stands in brackets or begins large within the sentence", () => {
  const powder = { ...raised("amber", "A white powder; smells (of garlic)", "case"), withdrawn: false };
  const said = (...cautions) =>
    paragraph("clock", { facts: Object.fromEntries(cautions.map((one, at) => [`cautions/${at}`, one])) });
  const begins = "Held back, and not offered until cleared";
  assert.ok(said(powder).includes(`${begins}; noted: the case, a white powder; smells (of garlic).`));
  assert.ok(
    said(raised("amber", "Brown paint", "hands")).includes(`${begins}; noted: brown paint on the hands.`),
  );
  assert.ok(said(raised("amber", "")).includes(`${begins}.`));
});

test("a limit of a clearance is printed however it begins, with one only, and in the answers on its zone", () => {
  const dust = { ...raised("amber", "White dust", "body"), withdrawn: false };
  const record = (words) =>
    recordOf(
      written(book.plans.ceramics, {
        facts: { "cautions/1": dust, "caution-decisions/1": decided("cleared", words) },
      }),
    );
  const said = (words) => asText(conditionParagraph(book.plans.ceramics, book, record(words)));
  for (const [words, printed] of [
    ["Sale, in the country only", "cleared for sale, in the country only."],
    ["sale, not abroad", "cleared only for sale, not abroad."],
    ["sale abroad", "cleared only for sale abroad."],
    ["display only", "cleared for display only."],
    ["not for sale", "cleared, but not for sale."],
  ]) {
    assert.ok(said(words).includes(`Noted: white dust on the body; ${printed}`), said(words));
    const [first] = fiveAnswers(book.plans.ceramics, book, record(words));
    assert.ok(asText(first.answer).includes(`Noted: white dust on the body; ${printed}`));
    assert.doesNotMatch(asText(first.answer), /fault noted on [^.]*the body/);
  }
  for (const words of ["Sale", "taking in, description, sale"]) assert.doesNotMatch(said(words), /leared/);
});

test("a clearance stands in the answers that ask of it, and in none that asks of another one", () => {
  const { ceramics } = book.plans;
  const facts = {
    "cautions/1": raised("amber", "White dust", "body"),
    "caution-decisions/1": decided("cleared", "display only"),
    "cautions/2": raised("amber", "A sharp edge", "stand"),
    "caution-decisions/2": decided("cleared", "the desk only"),
  };
  const answers = fiveAnswers(ceramics, book, recordOf(written(ceramics, { facts })));
  const said = answers.map(({ answer }) => asText(answer));
  const isIn = (words) => said.map((answer) => answer.includes(words));
  assert.deepEqual(isIn("Noted: white dust on the body; cleared"), [true, true, false, true, false]);
  assert.deepEqual(isIn("Noted: a sharp edge on the stand; cleared"), [false, false, true, false, false]);
});

test("beside a receipt stands what was decided, and no word of it while something is undecided", () => {
  const words = (facts) => decidedWords(recordOf(facts));
  assert.equal(words(tin(decided("referred"))), "Referred, stays held. A paper of it was given.");
  const owed = { ...decided("isolated"), paper_given: false };
  assert.equal(words(tin(owed)), "Set apart, stays held. The paper of it is still to be given.");
  assert.equal(words({ "cautions/1": raised("red", "brass cases") }), "");
  assert.equal(words({ ...tin(decided("referred")), "cautions/2": raised("red", "powder") }), "");
  assert.equal(words({}), "", "nothing stops it");
});
