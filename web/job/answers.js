/**
 * The five questions that bidders ask, answered from the record in advance, or "not determined".
 *
 * They rest on the same findings as the paragraph, so the two cannot disagree. "No" is said only where a zone was
 * examined and the fault was denied with the light that could have shown it.
 *
 * @import { Plan, PlanBook, Question, RecordCopy } from "./types.js"
 * @import { Sentence } from "./wording.js"
 */
import { measureName, sizeInWords } from "./lot.js";
import { conditionParagraph } from "./paragraph.js";
import { keysOf } from "./progress.js";
import { listed, valueOf } from "./record.js";
import { placesInWords, sentence } from "./wording.js";

/** @typedef {{question: string, answer: Sentence[], determined: boolean}} Answered */

/** @param {Plan} plan @param {PlanBook} book @param {RecordCopy} record @returns {Answered[]} */
export function fiveAnswers(plan, book, record) {
  const paragraph = conditionParagraph(plan, book, record);
  return plan.questions.map((question) => {
    const answer = [...fromParagraph(plan, record, question, paragraph), ...fromFacts(plan, record, question)];
    const open = notYet(plan, record, question);
    if (answer.length || open.length) return { question: question.question, answer: [...answer, ...open], determined: answer.length > 0 };
    return { question: question.question, answer: [{ words: "Not determined.", from: [] }], determined: false };
  });
}

/** The paragraph's sentences that speak of what the question asks. @param {Plan} plan @param {RecordCopy} record @param {Question} question @param {Sentence[]} paragraph */
function fromParagraph(plan, record, question, paragraph) {
  const keys = new Set(zonesOf(plan, question));
  const asked = (/** @type {string} */ field) => {
    const [head = "", ...rest] = field.split("/");
    const value = valueOf(record, field);
    if (head === "findings" || head === "denials") return keys.has(value.zone) && (!question.terms.length || question.terms.includes(value.term));
    if (head === "origins") return keys.has(rest.join("/"));
    if (head === "tests") return question.tests.includes(rest[0] ?? "");
    if (head === "statements") return question.facts.includes("statements");
    if (head === "cautions") return question.facts.includes("cautions");
    return false;
  };
  return paragraph.filter(({ words, from }) => !/^(Examined with|Still going on|Held apart)/.test(words) && from.some(asked));
}

/** @param {Plan} plan @param {Question} question */
function zonesOf(plan, question) {
  return plan.zones.filter(({ zone }) => question.zones.includes(zone)).flatMap(keysOf);
}

/** @param {Plan} plan @param {RecordCopy} record @param {Question} question @returns {Sentence[]} */
function fromFacts(plan, record, question) {
  const told = (/** @type {string} */ field, /** @type {string} */ label, value = valueOf(record, field)) => (value ? [sentence(`${label}: ${value}`, [field])] : []);
  const measures = question.measures.flatMap((measure) => {
    const size = valueOf(record, `measures/${measure}`);
    const known = plan.measures.find((one) => one.measure === measure);
    return size?.value && known ? told(`measures/${measure}`, measureName(known), sizeInWords(size)) : [];
  });
  const facts = question.facts.flatMap((fact) => {
    switch (fact) {
      case "materials": return told("materials", "materials as seen");
      case "maker": return valueOf(record, "maker_certainty") === "unknown" ? [sentence("maker not determined", ["maker_certainty"])] : [];
      case "dates": return told("dates", "date", valueOf(record, "dates")?.words);
      case "marks": {
        const marks = listed(record, "marks/").filter(({ value }) => !value.withdrawn && value.text.trim());
        return marks.map(({ id, value }) => sentence(`mark, ${value.place.trim() || "place not noted"}: “${value.text.trim().replaceAll("\n", " / ")}”`, [`marks/${id}`]));
      }
      case "papers": {
        const fields = ["maker_evidence", "dates_evidence"].filter((field) => valueOf(record, field)?.includes("provenance-paper"));
        return fields.length ? [sentence("there are papers with it", fields)] : [];
      }
      default: return [];
    }
  });
  return [...measures, ...facts];
}

/** What stands in the way of an answer, and what was seen without anything to report. @param {Plan} plan @param {RecordCopy} record @param {Question} question @returns {Sentence[]} */
function notYet(plan, record, question) {
  const keys = zonesOf(plan, question);
  const states = keys.map((key) => ({ key, state: valueOf(record, `zones/${key}`) }));
  const clear = states.filter(({ state }) => state?.state === "clear");
  const skipped = states.filter(({ state }) => state?.state === "not-examined" && state.reason !== "not-applicable");
  const blank = states.filter(({ state }) => !state);
  const words = (/** @type {{key: string}[]} */ some) => placesInWords(plan, some.map(({ key }) => key));
  const from = (/** @type {{key: string}[]} */ some) => some.map(({ key }) => `zones/${key}`);
  return [
    ...(clear.length ? [sentence(`examined, nothing to report: ${words(clear)}`, from(clear))] : []),
    ...(skipped.length ? [sentence(`not examined: ${words(skipped)}`, from(skipped))] : []),
    ...(blank.length ? [{ words: `Not determined: nobody has looked at ${words(blank)}.`, from: [] }] : []),
  ];
}
