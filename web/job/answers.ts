/**
 * The five questions that bidders ask, answered from the record in advance, or "not determined".
 *
 * They rest on the same findings as the paragraph, so the two cannot disagree. "No" is said only where a zone was
 * examined and the fault was denied with the light that could have shown it.
 */

import { measureName, sizeInWords } from "./lot.ts";
import { conditionParagraph } from "./paragraph.ts";
import { keysOf } from "./progress.ts";
import type { Plan, PlanBook, Question, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import type { Sentence } from "./wording.ts";
import { placesInWords, sentence } from "./wording.ts";

export type Answered = { question: string; answer: Sentence[]; determined: boolean };

export function fiveAnswers(plan: Plan, book: PlanBook, record: RecordCopy): Answered[] {
  const paragraph = conditionParagraph(plan, book, record);
  return plan.questions.map((question) => {
    const answer = [
      ...fromParagraph(plan, record, question, paragraph),
      ...fromFacts(plan, record, question),
    ];
    const open = notYet(plan, record, question);
    if (answer.length || open.length)
      return { question: question.question, answer: [...answer, ...open], determined: answer.length > 0 };
    return {
      question: question.question,
      answer: [{ words: "Not determined.", from: [] }],
      determined: false,
    };
  });
}

/** The paragraph's sentences that speak of what the question asks. */
function fromParagraph(plan: Plan, record: RecordCopy, question: Question, paragraph: Sentence[]) {
  const keys = new Set(zonesOf(plan, question));
  const asked = (field: string) => {
    const [head = "", ...rest] = field.split("/");
    const id = rest.join("/");
    if (head === "findings" || head === "denials") {
      const value = fieldValue(record, `${head}/${id}`);
      return (
        value !== undefined &&
        keys.has(value.zone) &&
        (!question.terms.length || question.terms.includes(value.term))
      );
    }
    if (head === "origins") return keys.has(id);
    if (head === "tests") return question.tests.includes(rest[0] ?? "");
    if (head === "statements") return question.facts.includes("statements");
    if (head === "cautions") return question.facts.includes("cautions");
    return false;
  };
  return paragraph.filter(
    ({ words, from }) => !/^(Examined with|Still going on|Held apart)/.test(words) && from.some(asked),
  );
}

function zonesOf(plan: Plan, question: Question) {
  return plan.zones.filter(({ zone }) => question.zones.includes(zone)).flatMap(keysOf);
}

function fromFacts(plan: Plan, record: RecordCopy, question: Question): Sentence[] {
  const told = (field: string, label: string, words: string | undefined) =>
    words ? [sentence(`${label}: ${words}`, [field])] : [];
  const measures = question.measures.flatMap((measure) => {
    const size = fieldValue(record, `measures/${measure}`);
    const known = plan.measures.find((one) => one.measure === measure);
    return size?.value && known
      ? told(`measures/${measure}`, measureName(known), sizeInWords({ ...size, value: size.value }))
      : [];
  });
  const facts = question.facts.flatMap((fact) => {
    switch (fact) {
      case "materials":
        return told("materials", "materials as seen", fieldValue(record, "materials"));
      case "maker":
        return fieldValue(record, "maker_certainty") === "unknown"
          ? [sentence("maker not determined", ["maker_certainty"])]
          : [];
      case "dates":
        return told("dates", "date", fieldValue(record, "dates")?.words);
      case "marks": {
        const marks = listed(record, "marks/").filter(({ value }) => !value.withdrawn && value.text.trim());
        return marks.map(({ id, value }) =>
          sentence(
            `mark, ${value.place.trim() || "place not noted"}: “${value.text.trim().replaceAll("\n", " / ")}”`,
            [`marks/${id}`],
          ),
        );
      }
      case "papers": {
        const fields = (["maker_evidence", "dates_evidence"] as const).filter((field) =>
          fieldValue(record, field)?.includes("provenance-paper"),
        );
        return fields.length ? [sentence("there are papers with it", fields)] : [];
      }
      default:
        return [];
    }
  });
  return [...measures, ...facts];
}

/** What stands in the way of an answer, and what was seen without anything to report. */
function notYet(plan: Plan, record: RecordCopy, question: Question): Sentence[] {
  const keys = zonesOf(plan, question);
  const states = keys.map((key) => ({ key, state: fieldValue(record, `zones/${key}`) }));
  const clear = states.filter(({ state }) => state?.state === "clear");
  const skipped = states.filter(
    ({ state }) => state?.state === "not-examined" && state.reason !== "not-applicable",
  );
  const blank = states.filter(({ state }) => !state);
  const words = (some: { key: string }[]) =>
    placesInWords(
      plan,
      some.map(({ key }) => key),
    );
  const from = (some: { key: string }[]) => some.map(({ key }) => `zones/${key}`);
  return [
    ...(clear.length ? [sentence(`examined, nothing to report: ${words(clear)}`, from(clear))] : []),
    ...(skipped.length ? [sentence(`not examined: ${words(skipped)}`, from(skipped))] : []),
    ...(blank.length ? [{ words: `Not determined: nobody has looked at ${words(blank)}.`, from: [] }] : []),
  ];
}
