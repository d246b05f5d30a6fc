/**
 * The five questions that bidders ask, answered from the record in advance, or "not determined".
 *
 * They rest on the same sentences as the paragraph, so the two cannot disagree, and hold every finding that bears on
 * what is asked. "No" is said only where a zone was examined and the fault was denied with the light that could have
 * shown it, and a zone on which nothing was found points to what was found around it.
 */

import { askedFacts, notOnRecord, notTried } from "./asked_facts.ts";
import { type DenialSentence, denialSentences } from "./denials.ts";
import { listInWords } from "./english.ts";
import {
  type Apart,
  type Described,
  isMissing,
  related,
  seenFindings,
  termOf,
  touch,
  WHOLE,
} from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { findingSentences, toldSentences } from "./finding_sentences.ts";
import { howWords, lightOf } from "./lights.ts";
import { bareNames, nothingAtAll, unseenSentences } from "./looked.ts";
import { originSentences } from "./origins.ts";
import { placesOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, saidOnce, sentence } from "./sentences.ts";
import { trialSentences } from "./trials.ts";
import type { Plan, PlanBook, Question, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";

export type Answered = { question: string; answer: Sentence[]; determined: boolean };
const NOT_DETERMINED: Sentence = { words: "Not determined.", from: [], keys: [] };
/** What broke, took away or mended something bears on every question about its zone. */
const INTERVENTION = "previous intervention";
/** A mend says nothing of whether what was mended is original or belongs. */
const MENDS = ["restuck", "rivet-repair", "re-sewn", "patched", "solder-repair", "tape-repair", "resized"];
const WEIGHTY = ["structural", "loss", INTERVENTION];

export function fiveAnswers(plan: Plan, book: PlanBook, record: RecordCopy, apart?: Apart): Answered[] {
  const described = { plan, book, record, apart };
  const made = {
    findings: [...findingSentences(described, "all"), ...toldSentences(described)],
    denials: denialSentences(described),
    origins: originSentences(described),
    trials: trialSentences(described, "said"),
  };
  return plan.questions.map((question) => {
    const denied = made.denials.filter(({ about }) =>
      about.some((denial) => isDenialOf(described, question, denial)),
    );
    const clear = nothingToReport(described, question, denied);
    const known = saidOnce(
      [
        ...made.findings.filter(({ about }) => about.some((finding) => bears(described, question, finding))),
        ...made.origins.filter(({ about }) => about.some((zone) => isAsked(plan, question, zone))),
        ...made.trials.filter(({ about }) => question.tests.includes(about)),
        ...denied,
        ...askedFacts(described, question),
      ],
      apart,
    );
    const open = unseen(described, question);
    const isSilent = !known.length && !clear.length;
    const undetermined = isSilent && open.length ? [NOT_DETERMINED] : [];
    const lacking = isSilent
      ? []
      : [
          ...noOpinion(described, question, known),
          ...notOnRecord(described, question),
          ...notTried(described, question),
        ];
    const answer = [...known, ...lacking, ...clear, ...undetermined, ...open];
    return {
      question: question.question,
      answer: answer.length ? answer : neverHad(described, question),
      determined: known.length > 0,
    };
  });
}

type OnZone = { zone: string; term: string };

/** Whether what was found on a zone bears on a question. */
export function bears(described: Described, question: Question, { zone, term }: OnZone) {
  const { plan, book } = described;
  if (isAmong(book, question.anywhere, term)) return true;
  const isNamed = isAmong(book, question.terms, term);
  if (isAsked(plan, question, zone)) return isNamed || isOpenTo(book, question, term);
  return zone === WHOLE && (isNamed || bearsOnParts(described, question, term));
}

/** Whether a question that names no such term asks for it all the same, on the zones that it asks about. */
function isOpenTo(book: PlanBook, { terms, aside }: Question, term: string) {
  const family = termOf(book, term)?.family ?? "";
  return !terms.length || (WEIGHTY.includes(family) && !aside.includes(family) && !aside.includes(term));
}

/**
 * Whether what was found on the whole bears on the zones asked about: on what is original or belongs, if somebody
 * changed it; else where such a thing is usual on one of them, so that musty is no answer to cracks.
 */
function bearsOnParts(described: Described, question: Question, term: string) {
  const { plan, book } = described;
  if (isNotThere(described, question) || !isOpenTo(book, question, term)) return false;
  if (question.unless_origin && termOf(book, term)?.family === INTERVENTION) return true;
  return plan.zones.some(({ zone, usual }) => question.zones.includes(zone) && isAmong(book, usual, term));
}

/** A denial answers where its term is asked for, on whichever zone; with no terms named, on the zones asked about. */
function isDenialOf({ plan, book }: Described, question: Question, { zone, term }: OnZone) {
  if (isAmong(book, question.anywhere, term)) return true;
  if (question.terms.length) return isAsked(plan, question, zone) && isAmong(book, question.terms, term);
  return question.zones.includes(zoneOf(zone));
}

function isAmong(book: PlanBook, terms: string[], term: string) {
  return terms.some((known) => related(book, known, term));
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
  const { plan, record } = described;
  const isSpoken = (key: string) =>
    foundAround(described, key).some(
      (finding) =>
        zoneOf(finding.zone) === zoneOf(key) ||
        (isWithin(plan, finding.zone, key) && bears(described, question, finding)),
    ) ||
    denied.some(({ about }) => about.some(({ zone }) => zone === key)) ||
    listed(record, "origins/").some(({ id, value }) => value.origin && touch(plan, id, key));
  const clear = keysAsked(described, question).filter(
    (key) => fieldValue(record, `zones/${key}`)?.state === "clear" && !isSpoken(key),
  );
  const lightOn = (key: string) => fieldValue(record, `zones/${key}`)?.light ?? "";
  const byLight = [...groupedBy(clear, lightOn)];
  return byLight.flatMap(([light, lit]) =>
    [...groupedBy(lit, (key) => beyondWords(described, key))].map(([beyond, keys]) =>
      nothingBeyond(described, light, beyond, keys),
    ),
  );
}

/** Each light has its own zones: nobody is told of one that was not used on them. */
function nothingBeyond({ plan, book }: Described, light: string, beyond: string, keys: string[]): Sentence {
  const how = light && howWords(lightOf(book, light));
  const result = [how, `with nothing to report${beyond}`].filter(Boolean).join(", ");
  return sentence(
    `examined ${result}: ${placesOf(plan, book, keys).words}`,
    keys.map((key) => `zones/${key}`),
    keys.map((key) => `clear/${key}`),
  );
}

function foundAround({ plan, record }: Described, key: string): FindingValue[] {
  return seenFindings(record).flatMap(({ value }) => (touch(plan, value.zone, key) ? [value] : []));
}

/** Whether a zone lies within that of a key. */
function isWithin(plan: Plan, zone: string, key: string) {
  return plan.zones.some((row) => row.zone === zoneOf(key) && row.holds.includes(zoneOf(zone)));
}

/** A zone may be clear by itself while the whole smells: where more was found around it, that is pointed to. */
function beyondWords(described: Described, key: string) {
  const { plan, book } = described;
  const found = new Set(foundAround(described, key).map(({ zone }) => zoneOf(zone)));
  const zones = plan.zones.flatMap(({ zone }) => (found.has(zone) ? [zone] : []));
  const names = zones.map((zone) => (zone === WHOLE ? "the whole" : placesOf(plan, book, [zone]).words));
  return names.length ? ` beyond what is said of ${listInWords(names)}` : "";
}

/** Asked whether something is original or belongs, silence is no opinion, however well it was looked at. */
function noOpinion(described: Described, question: Question, known: Sentence[]): Sentence[] {
  const { plan, book, record } = described;
  const { unless_origin } = question;
  if (!unless_origin || isNotThere(described, question)) return [];
  const isGiven =
    listed(record, "origins/").some(({ id, value }) => value.origin && isAsked(plan, question, id)) ||
    known.some(({ from }) => from.some((field) => isOfIntervention({ book, record }, field)));
  return isGiven || isJudged(described, question) ? [] : [sentence(unless_origin, [])];
}

/** Whether the mark that is asked about is held for the maker's own, or is not relied on. */
function isJudged({ record }: Described, { facts }: Question) {
  const marks = facts.includes("marks") ? listed(record, "marks/") : [];
  return marks.some(
    ({ value }) => !value.withdrawn && ["makers-own", "not-relied-on"].includes(value.standing ?? ""),
  );
}

/** Whether a field is a finding or a denial of what somebody has done to the thing, more than mend it. */
function isOfIntervention({ book, record }: Pick<Described, "book" | "record">, field: string) {
  const value = record.fields[field]?.value as { term?: string } | undefined;
  const term = value?.term ?? "";
  return termOf(book, term)?.family === INTERVENTION && !MENDS.includes(term);
}

/** What stands in the way of an answer. */
function unseen(described: Described, question: Question): Sentence[] {
  const keys = keysAsked(described, question);
  if (!keys.length) return [];
  return nothingAtAll(described) ?? unseenSentences(described, keys);
}

/** Nothing that is asked about is there, or nothing was recorded that would answer. */
function neverHad(described: Described, question: Question): Sentence[] {
  if (!isNotThere(described, question)) {
    const missing = notOnRecord(described, question);
    return missing.length ? missing : [NOT_DETERMINED];
  }
  const keys = keysAsked(described, question);
  const none = sentence(
    `it has no ${bareNames(described.book, [...new Set(keys.map(zoneOf))])}`,
    keys.flatMap((key) => [
      ...[`zones/${key}`].filter((field) => described.record.fields[field]),
      ...missingOn(described.record, key),
    ]),
  );
  // A date may be known of what has no title leaf; of what has no mark, nobody misses the wording.
  const facts = question.facts.filter((fact) => fact !== "marks" && !question.zones.includes(fact));
  return [none, ...notOnRecord(described, { ...question, facts })];
}

/** The findings that say that all of a zone is missing. */
function missingOn(record: RecordCopy, key: string) {
  const found = seenFindings(record).filter(
    ({ value }) => value.zone === key && value.term === "missing-part",
  );
  return found.map(({ id }) => `findings/${id}`);
}

/** Whether every zone that is asked about is none of this thing's, or missing. */
function isNotThere(described: Described, question: Question) {
  const keys = keysAsked(described, question);
  const { record } = described;
  const isNone = (key: string) =>
    fieldValue(record, `zones/${key}`)?.reason === "not-applicable" || isMissing(record, key);
  return keys.length > 0 && keys.every(isNone);
}
