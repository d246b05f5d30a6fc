/** What a press of its own said, in the answers to bidders: neither less than it, nor more. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { planOfKind } from "../../web/job/kind_of.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

/** The answer where these zones were each cleared by a press of their own, and all others by one. */
function answerByHand(class_id, begins, zones, short = {}) {
  const plan = book.plans[class_id];
  const record = recordOf(written(plan, short));
  for (const [at, zone] of zones.entries())
    Object.assign(record.fields[`zones/${zone}`], { operation_id: `by-hand-${at}`, made_at: `10:0${at}` });
  const answers = fiveAnswers(plan, book, record);
  return asText(answers.find(({ question }) => question.startsWith(begins)).answer);
}

test("what was cleared on its own zone is there; how many there are may not be noted", () => {
  const all = "Is all of it there";
  const by_hand = answerByHand("clock", all, ["weights", "keys", "pendulum"]);
  assert.match(
    by_hand,
    /^The pendulum, the weights and the keys are present\. How many weights and keys there are was not noted\. /,
  );
  assert.match(by_hand, /\. Whether the finials and feet are present was not noted\./);
  const counted = answerByHand("clock", all, ["keys"], { counts: { keys: 2 } });
  assert.match(
    counted,
    /^The keys are present\. Whether the finials and feet, the pendulum and the weights are/,
  );
  assert.match(
    answer("clock", all, {}),
    /Whether the finials and feet, the pendulum, the weights and the keys are present was not noted\./,
  );
  const lost = { findings: [{ zone: "keys", term: "missing-part", severity: 2, extent_count: 1 }] };
  assert.match(
    answerByHand("clock", all, ["keys"], lost),
    /Whether .* the other keys are present was not noted/,
  );
});

test("papers that were looked at by themselves are with it", () => {
  assert.match(answerByHand("watch", "Are box", ["papers"]), /There are papers with it\./);
  assert.match(answerByHand("watch", "Are box", []), /Whether there are papers with it was not noted\./);
});

test("that a light was used is no word on what it showed: of that nothing is said, or what somebody recorded", () => {
  const used = { tests: { "low-light": ["works", "", ""], ultraviolet: ["works", "", ""] } };
  for (const text of [paragraph("work-on-paper", used), answer("work-on-paper", "Are there tears", used)]) {
    assert.match(
      text,
      /Looked at in low side light for folds and creases; whether anything showed was not noted\./,
    );
    assert.match(text, /Looked at under ultraviolet for [^.;]*; whether anything showed was not noted\./);
    assert.doesNotMatch(text, /to report/);
  }
  const creased = paragraph("work-on-paper", {
    ...used,
    ...one("sheet-edges", "crease", { light: "torch" }),
  });
  assert.match(creased, /Looked at in low side light for folds and creases\. /);
  const denied = paragraph("ceramics", { ...used, denials: [["handles", "retouched", "ultraviolet"]] });
  assert.match(denied, /Looked at under ultraviolet for restoration\. /);
  const seen = { tests: { "low-light": ["works", "nothing-seen", ""] } };
  assert.match(paragraph("work-on-paper", seen), /for folds and creases, with nothing to report\./);
  const mark = (why) => paragraph("book-map", { tests: { "light-behind": ["works", why, ""] } });
  assert.match(mark("nothing-seen"), /for the watermark; none seen\./);
  assert.match(mark(""), /for the watermark; whether there is one was not noted\./);
});

const LETTERS = book.plans["work-on-paper"].kinds.find(({ kind }) => kind === "letters");
const NOT_OF_LETTERS = book.plans["work-on-paper"].zones
  .map(({ zone }) => zone)
  .filter((zone) => LETTERS.without.includes(zone));

/** Of a bundle of letters, asked as its kind is. */
function ofLetters(begins, short) {
  const facts = { short_description: "bundle of letters", ...short.facts };
  const record = recordOf(
    written(book.plans["work-on-paper"], { ...short, facts, untouched: NOT_OF_LETTERS }),
  );
  const plan = planOfKind(book.plans["work-on-paper"], record);
  const all = fiveAnswers(plan, book, record);
  return {
    lot: asText(lotDescription(plan, book, record)),
    answer: asText(all.find(({ question }) => question.startsWith(begins)).answer),
  };
}

test("letters have a date, an address and a signature: those were copied or not, and never not found", () => {
  const plan = planOfKind(book.plans["work-on-paper"], recordOf({ short_description: "letters" }));
  const all = plan.marks.join(", ");
  const said = ofLetters("Who wrote", { facts: { marks_looked: all } });
  for (const text of Object.values(said)) {
    assert.doesNotMatch(text, /[Nn]o marks/);
    assert.match(
      text,
      /the signature, the envelope and the seal, postmark or stamp were looked at and not copied\./,
    );
  }
  assert.match(said.answer, /From whom and to whom it is was not noted\./);
  const other = ofLetters("Who wrote", { facts: { marks_looked: "first and last sheet" } });
  assert.match(other.answer, /What stands on the first and last sheet was looked at and not copied\./);
  assert.doesNotMatch(ofLetters("Who wrote", {}).answer, /[Nn]o marks/);
  const print = { facts: { short_description: "etching", marks_looked: "verso" } };
  assert.match(lot("work-on-paper", print.facts), /No marks found, looked for on the verso\./);
});

test("what yellowed all over is told where staining is asked for, and nothing further is beside it alone", () => {
  const yellow = one("outline", "yellowing", { extent_words: "large areas" });
  const letters = ofLetters("How much foxing", yellow).answer;
  assert.match(letters, /^Yellowing/);
  assert.match(answer("work-on-paper", "How much foxing", yellow), /^Yellowing/);
  assert.match(answer("book-map", "How much foxing", yellow), /^Yellowing/);
  assert.match(answer("work-on-paper", "How much foxing", one("outline", "stain")), /^A stain/);
});

test("what only says how a material is, is no other material", () => {
  const of = (materials) => lot("silver-plate", { short_description: "teapot", materials });
  assert.match(of("silver-coloured metal, not tested"), /^A teapot; silver-coloured metal, not tested\./);
  assert.match(of("white metal, unmarked"), /white metal, unmarked\./);
  assert.match(of("brass, iron"), /brass and iron/);
});
