/**
 * The five questions that bidders ask, answered from the record in advance, or "not determined".
 *
 * They rest on the same sentences as the paragraph, so the two cannot disagree, and hold every finding that bears on what
 * is asked. "No" is said only where a zone was examined and the fault was denied with the light that could have shown it.
 */

import { askedFacts, notOnRecord } from "./asked_facts.ts";
import { type DenialSentence, denialSentences } from "./denials.ts";
import { listInWords } from "./english.ts";
import { type Described, related, seenFindings, termOf, touch, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { findingSentences, toldSentences } from "./finding_sentences.ts";
import { howWords, inOrderOfLights, lightOf } from "./lights.ts";
import { bareNames, unseenSentences } from "./looked.ts";
import { originSentences } from "./origins.ts";
import { placesOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, saidOnce, sentence } from "./sentences.ts";
import { trialSentences } from "./trials.ts";
import type { Plan, PlanBook, Question, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

export type Answered = { question: string; answer: Sentence[]; determined: boolean };
const NOT_DETERMINED: Sentence = { words: "Not determined.", from: [], keys: [] };
/** What broke, took away or mended something bears on every question about its zone. */
const INTERVENTION = "previous intervention";
const WEIGHTY = ["structural", "loss", INTERVENTION];

export function fiveAnswers(plan: Plan, book: PlanBook, record: RecordCopy): Answered[] {
  const described = { plan, book, record };
  const made = {
    findings: [...findingSentences(described, "all"), ...toldSentences(described)],
    denials: denialSentences(described),
    origins: originSentences(described),
    trials: trialSentences(described, "said"),
  };
  return plan.questions.map((question) => {
    const denied = made.denials.filter(({ about }) =>
      about.some((one) => isDenialOf(described, question, one)),
    );
    const clear = nothingToReport(described, question, denied);
    // Beside "nothing else to report" stands what was found on the whole, whatever is asked.
    const isElse = ({ zone, certainty }: FindingValue) =>
      clear.length > 0 && zone === WHOLE && certainty !== "told";
    const known = saidOnce([
      ...made.findings.filter(({ about }) =>
        about.some((one) => isElse(one) || bears(described, question, one)),
      ),
      ...made.origins.filter(({ about }) => about.some((zone) => isAsked(plan, question, zone))),
      ...made.trials.filter(({ about }) => question.tests.includes(about)),
      ...denied,
      ...askedFacts(described, question),
    ]);
    const open = unseen(described, question);
    const isSilent = !known.length && !clear.length;
    const undetermined = isSilent && open.length ? [NOT_DETERMINED] : [];
    const lacking = isSilent
      ? []
      : [...noOpinion(described, question, known), ...notOnRecord(described, question)];
    const answer = [...known, ...lacking, ...clear, ...undetermined, ...open];
    return {
      question: question.question,
      answer: answer.length ? answer : [neverHad(described, question)],
      determined: known.length > 0,
    };
  });
}

type OnZone = { zone: string; term: string };

/** Whether what was found on a zone bears on a question. What broke or mended the whole bears on every one. */
export function bears(described: Described, question: Question, { zone, term }: OnZone) {
  const { plan, book } = described;
  const isWeighty = WEIGHTY.includes(termOf(book, term)?.family ?? "");
  if (isAmong(book, question.anywhere, term) || (zone === WHOLE && isWeighty)) return true;
  if (zone === WHOLE && isAmong(book, question.terms, term)) return true;
  return (
    isAsked(plan, question, zone) &&
    (!question.terms.length || isWeighty || isAmong(book, question.terms, term))
  );
}

/** A denial answers where its term is asked for, on whichever zone; with no terms named, on the zones asked about. */
function isDenialOf({ plan, book }: Described, question: Question, { zone, term }: OnZone) {
  if (isAmong(book, question.anywhere, term)) return true;
  if (question.terms.length) return isAsked(plan, question, zone) && isAmong(book, question.terms, term);
  return question.zones.includes(zoneOf(zone));
}

function isAmong(book: PlanBook, terms: string[], term: string) {
  return terms.some((one) => related(book, one, term));
}

/** The whole is asked about only where it is named. */
function isAsked(plan: Plan, question: Question, zone: string) {
  if (zone === WHOLE) return question.zones.includes(WHOLE);
  return question.zones.some((asked) => asked !== WHOLE && touch(plan, asked, zone));
}

function keysAsked({ plan }: Described, question: Question) {
  return plan.zones.filter(({ zone }) => question.zones.includes(zone)).flatMap(keysOf);
}

/** Zones that were examined and of which nothing was said; what was looked for there is not known, only with what. */
function nothingToReport(described: Described, question: Question, denied: DenialSentence[]): Sentence[] {
  const { plan, book, record } = described;
  const spoken = (key: string) =>
    seenFindings(record).some(({ value }) => value.zone !== WHOLE && touch(plan, value.zone, key)) ||
    denied.some(({ about }) => about.some(({ zone }) => zone === key)) ||
    listed(record, "origins/").some(({ id, value }) => value.origin && touch(plan, id, key));
  const clear = keysAsked(described, question).filter(
    (key) => fieldValue(record, `zones/${key}`)?.state === "clear" && !spoken(key),
  );
  if (!clear.length) return [];
  const nothing = foundOnWhole(record) ? "with nothing else to report" : "with nothing to report";
  const lights = clear.flatMap((key) => fieldValue(record, `zones/${key}`)?.light ?? []);
  const how = inOrderOfLights(book, lights).map((light) => howWords(lightOf(book, light)));
  return [
    sentence(
      `examined ${[listInWords(how), nothing].filter(Boolean).join(", ")}: ${placesOf(plan, book, clear).words}`,
      clear.map((key) => `zones/${key}`),
      clear.map((key) => `clear/${key}`),
    ),
  ];
}

/** What was found on the whole speaks of each of its zones. */
function foundOnWhole(record: RecordCopy) {
  return seenFindings(record).some(({ value }) => value.zone === WHOLE);
}

/** Asked whether something is original or belongs, silence is no opinion, however well it was looked at. */
function noOpinion(described: Described, question: Question, known: Sentence[]): Sentence[] {
  const { plan, book, record } = described;
  const { unless_origin } = question;
  if (!unless_origin || isNotThere(described, question)) return [];
  const isGiven =
    listed(record, "origins/").some(({ id, value }) => value.origin && isAsked(plan, question, id)) ||
    known.some(({ from }) => from.some((field) => isOfIntervention({ book, record }, field)));
  return isGiven ? [] : [sentence(unless_origin, [])];
}

/** Whether a field is a finding or a denial of what somebody has done to the thing. */
function isOfIntervention({ book, record }: Pick<Described, "book" | "record">, field: string) {
  const value = record.fields[field]?.value as { term?: string } | undefined;
  return termOf(book, value?.term ?? "")?.family === INTERVENTION;
}

/** What stands in the way of an answer. */
function unseen(described: Described, question: Question): Sentence[] {
  const keys = keysAsked(described, question);
  return keys.length ? unseenSentences(described, keys) : [];
}

/** Nothing that is asked about is there, or nothing was recorded that would answer. */
function neverHad(described: Described, question: Question): Sentence {
  if (!isNotThere(described, question)) return NOT_DETERMINED;
  const keys = keysAsked(described, question);
  return sentence(
    `it has no ${bareNames(described.book, [...new Set(keys.map(zoneOf))])}`,
    keys.map((key) => `zones/${key}`),
  );
}

/** Whether every zone that is asked about was said to be none of this thing's. */
function isNotThere(described: Described, question: Question) {
  const keys = keysAsked(described, question);
  const isNone = (key: string) => fieldValue(described.record, `zones/${key}`)?.reason === "not-applicable";
  return keys.length > 0 && keys.every(isNone);
}
