/** Which findings, denials and origins bear on what a question asks: by their zone, their term and its family. */

import { isAsked, isNotPut } from "./asked_zones.ts";
import { besideOf, type Described, deniedBy, related, termOf, throughOf, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { PAPER_WORDS } from "./papers.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import type { PlanBook, Question } from "./types.ts";
import { isNotThere } from "./untried.ts";
import { fieldValue } from "./values.ts";

/** What broke, took away or mended something bears on every question about its zone. */
export const INTERVENTION = "previous intervention";
const WEIGHTY = ["structural", "loss", INTERVENTION];
/** What a question puts aside that is no matter of what is original. */
const ORIGINALITY = "originality";
const SERIOUS = 3;

export type OnZone = { zone: string; term: string; note?: string };

/** Whether what was found on a zone bears on a question. */
export function bears(described: Described, question: Question, { zone, term, note = "" }: OnZone) {
  const { plan, book } = described;
  if (isNotPut(described, question) || question.aside.includes(zoneOf(zone))) return false;
  // A flask that is missing is no paper.
  const isOfPaper = !note.trim() || PAPER_WORDS.test(note);
  if (term === MISSING && question.paper_only?.includes(zoneOf(zone)) && !isOfPaper) return false;
  if (isNamed(book, question, question.anywhere, term)) return true;
  const isOne = isNamed(book, question, question.terms, term);
  if (isAsked(plan, question, zone)) return isOne || isOpenTo(book, question, term);
  // "There is a chain with it" beside a chain that is not its own.
  if (question.if_there?.zone === zone) return isOpenTo(book, question, term);
  const around = [...besideOf(described, zone, term), ...throughOf(plan, zone, term)];
  if (around.some((other) => question.zones.includes(other))) return isOpenTo(book, question, term);
  return zone === WHOLE && (isOne || bearsOnParts(described, question, term));
}

/**
 * What is serious, and what no question of the plan asks for, is told by the first that asks about its zone: else that
 * one would say that there is nothing to report of it.
 */
export function isLeftTo(described: Described, question: Question, finding: FindingValue) {
  const { plan, book } = described;
  const { zone, term, severity } = finding;
  const isShort = zoneNameOf(book, zoneOf(zone)).tally && term === MISSING;
  if ((severity < SERIOUS && !isShort) || zone === WHOLE) return false;
  // Whoever reads the answers alone would bid on twelve where eleven are left.
  if (isShort && !plan.questions.some((one) => isAsked(plan, one, zone)))
    return plan.questions.find((one) => !isNotPut(described, one)) === question;
  const isOpen = (one: Question) =>
    isAsked(plan, one, zone) &&
    !isNotPut(described, one) &&
    !one.aside.includes(zoneOf(zone)) &&
    !isAside(book, one, term);
  if (!isOpen(question) || plan.questions.some((one) => bears(described, one, finding))) return false;
  return plan.questions.find(isOpen) === question;
}

/**
 * Whether a fault is what a question asks for: one that it names, or on its zones one of that family, or any where it
 * names none. That a frame has losses is no answer to "are there holes", though a loss may be a hole.
 */
export function isMeantBy({ plan, book }: Described, question: Question, { zone, term }: OnZone) {
  const { terms, anywhere } = question;
  if ([...terms, ...anywhere].includes(term)) return true;
  return (
    isAsked(plan, question, zone) && (!terms.length || isNamed(book, question, [...terms, ...anywhere], term))
  );
}

/** Whether a question that names no such term asks for it all the same, on the zones that it asks about. */
function isOpenTo(book: PlanBook, question: Question, term: string) {
  if (!question.terms.length) return !question.aside.includes(term);
  return WEIGHTY.includes(termOf(book, term)?.family ?? "") && !isAside(book, question, term);
}

/** Whether a term is one of those named, or of the family of one and not put aside. */
function isNamed(book: PlanBook, question: Question, named: string[], term: string) {
  return named.includes(term) || (isAmong(book, named, term) && !isAside(book, question, term));
}

function isAside(book: PlanBook, { aside }: Question, term: string) {
  return aside.includes(termOf(book, term)?.family ?? "") || aside.includes(term);
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

/**
 * A denial answers where its very term is asked for, on whichever zone; else on the zones asked about, if its term goes
 * with one that is asked for: that no pad was replaced says nothing of the filling.
 */
export function isDenialOf({ plan, book }: Described, question: Question, { zone, term }: OnZone) {
  const { anywhere, terms } = question;
  if (anywhere.includes(term)) return true;
  if (!terms.length) return question.zones.includes(zoneOf(zone)) && !isAside(book, question, term);
  const isOfFamily = (asked: string) => termOf(book, asked)?.family === termOf(book, term)?.family;
  return isAsked(plan, question, zone) && isAmong(book, [...terms, ...anywhere].filter(isOfFamily), term);
}

/**
 * What a zone is since it was made, unless the question has nothing to do with whether it is original; that the whole
 * was changed bears on whether any of its zones is original or belongs.
 */
export function isOfOrigin(described: Described, question: Question, zone: string) {
  const { plan, book, record } = described;
  const isChanged = deniedBy(book, fieldValue(record, `origins/${zone}`)?.origin ?? null).length > 0;
  if (isAsked(plan, question, zone)) return isChanged || !question.aside.includes(ORIGINALITY);
  return zone === WHOLE && isChanged && Boolean(question.unless_origin) && !isNotThere(described, question);
}

export function isAmong(book: PlanBook, terms: string[], term: string) {
  return terms.some((known) => related(book, known, term));
}
