/**
 * The five questions that bidders ask, answered from the record in advance, or said not to be noted.
 *
 * They rest on the same sentences as the paragraph, so the two cannot disagree, and hold every finding that bears on
 * what is asked. "No" is said only where a zone was examined and the fault was denied with the light that could have
 * shown it, and every zone that is asked about is named.
 */

import { asOffered } from "./as_offered.ts";
import { askedFacts, leftOpen, notOnRecord } from "./asked_facts.ts";
import {
  isAsked,
  isCautionAsked,
  isCheckInAsked,
  isCheckInNamed,
  isNeverSaid,
  isNotPut,
  marksAsked,
  neverHad,
  nothingToReport,
  notPut,
  thereOf,
  unseenOf,
} from "./asked_zones.ts";
import { hasOneEach, isAskedOf, namedFor } from "./called.ts";
import { clearedCautions, isStopped, standingCautions } from "./cautions.ts";
import { differedSince } from "./condition.ts";
import { type DenialSentence, denialSentences } from "./denials.ts";
import { countInWords, listInWords } from "./english.ts";
import {
  type Apart,
  besideOf,
  type Described,
  deniedBy,
  related,
  termOf,
  throughOf,
  touch,
  WHOLE,
} from "./families.ts";
import type { Families, FindingValue } from "./fields.ts";
import { type FindingSentence, findingSentences, toldSentences } from "./finding_sentences.ts";
import { isGone, isMissing, MISSING } from "./gone.ts";
import { isGoneHome } from "./gone_home.ts";
import { asOneOfParts } from "./in_its_parts.ts";
import { isLookOfAll, ofNothingTold } from "./look_sentences.ts";
import { itOrThem, nothingAtAll, saidOfThem } from "./looked.ts";
import { opinionSentences } from "./lot.ts";
import { originSentences } from "./origins.ts";
import { placesOnOthers } from "./other_pieces.ts";
import { PAPER_WORDS } from "./papers.ts";
import { cautionSentences, checkInSentences, clearanceSentences, goneSentences } from "./paragraph.ts";
import { awaySentences, pieceSentences } from "./piece_sentences.ts";
import { nounOf, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, saidOnce, sentence } from "./sentences.ts";
import { isSweptUnshown } from "./sight.ts";
import { isTakenUp } from "./taken_up.ts";
import { planFor } from "./tests_fitted.ts";
import { isKnownToHave, isNamedIn, isOfPicturesAlone } from "./there.ts";
import { failedTrials, type TrialSentence, trialSentences, zonesTried } from "./trials.ts";
import type { FunctionTest, Plan, PlanBook, Question, RecordCopy } from "./types.ts";
import { isExamined, isOfMany, uncopied } from "./uncopied.ts";
import { unmeasured } from "./unmeasured.ts";
import { apartUnsettled, withUnsettled } from "./unsettled.ts";
import { isNotThere, keysAsked, notTried } from "./untried.ts";
import { fieldValue, type Listed, listed } from "./values.ts";
import { isOnSomePieces } from "./which_piece.ts";

export type Answered = { question: string; answer: Sentence[]; determined: boolean };
/** What somebody made of the record's sentences in one answer. */
export type Written = {
  /** Their words in place of what they wrote of, in their order. */
  words: (sentences: Sentence[]) => Sentence[];
  /** The whole answer, with a word on what they took out of it. */
  whole: (answer: Sentence[]) => Sentence[];
};

/** "Not determined" is for what somebody recorded that he looked at and cannot say; of silence it is not true. */
const NOT_NOTED: Sentence = { words: "Not noted.", from: [], keys: [] };
/** Nobody looked. */
const NOT_EXAMINED: Sentence = { words: "Not examined.", from: [], keys: [] };
const AS_RECORDED: Written = { words: (known) => known, whole: (answer) => answer };
/** What broke, took away or mended something bears on every question about its zone. */
const INTERVENTION = "previous intervention";
/** A mend says nothing of whether what was mended is original or belongs. */
const MENDS = ["restuck", "rivet-repair", "re-sewn", "patched", "solder-repair", "tape-repair", "resized"];
/** Whether parts belong to each other is told by what is another's or new, not by what was made of the part itself. */
const ANOTHERS = ["associated-part", "replaced-part"];
const MADE_OF_IT = ["restored", "repaired", "refinished", "altered"];
const OF_BELONGING = /\b(belongs?|right|of one instrument)\b/;
/** "Whether they are right for this case": those that are there are named where others are not. */
const OF_THEM = /\bthey\b/;
const OF_ALL = /\b(?:all|both|each|every)\b/i;
const OF_MAKER = ["maker", "marks", "evidence"];
const MADE_BY =
  /^in our opinion: (?:\w+bly )?(?:by|after|attributed to|in the manner of|(?:workshop|circle|follower) of) /i;
const WEIGHTY = ["structural", "loss", INTERVENTION];
/** What a question puts aside that is no matter of what is original. */
const ORIGINALITY = "originality";
const SERIOUS = 3;

/** `written` gives, for a question, what is printed in place of the record's sentences; `apart` is what it wrote of. */
export function fiveAnswers(
  plan: Plan,
  house: PlanBook,
  said: RecordCopy,
  written: () => Written = () => AS_RECORDED,
  desks?: Apart,
): Answered[] {
  const record = asOneOfParts(plan, house, asOffered(said));
  const apart = apartUnsettled(record, desks);
  const book = namedFor(house, record, plan);
  const described: Described = { plan: planFor(plan, record), book, record, apart };
  const all = plan.questions.length;
  // Of what is stopped nothing else is told, whatever is asked.
  if (isStopped(record))
    return all ? [ofSeveral(all, all, withUnsettled(record, cautionSentences(described)))] : [];
  if (isGoneHome(record))
    return all
      ? [ofSeveral(all, all, asWritten(written(), withUnsettled(record, goneSentences(described))))]
      : [];
  const made = madeOf(described);
  const nothing = nothingAtAll(described);
  const away = awaySentences(described);
  // That it is held back is told once in the first answer: whichever part of it that is for, none of it is on offer.
  const held = saidOnce(withUnsettled(record, made.cautions), apart);
  const [first] = described.plan.questions;
  // It stands before what it bears on, and behind any other first answer: a flex is no chip.
  const isHeldAsked = standingCautions(record).some(
    (one) => first && (isNeverSaid(described, one) || isCautionAsked(described, first, one)),
  );
  const answers = described.plan.questions.map((question) => {
    const isFirst = question === first;
    const cautions = isFirst ? [] : made.cautions;
    const one = answerTo(described, { ...made, cautions }, question, written(), Boolean(nothing));
    const before = isFirst && isHeldAsked ? held : [];
    const behind = isFirst && !isHeldAsked ? held : [];
    const { words } = written();
    return { ...one, answer: [...words([...away, ...before]), ...one.answer, ...words(behind)] };
  });
  const open = answers.filter(({ determined }) => !determined).length;
  if (!nothing || open < 2) return answers;
  const { words, whole } = written();
  // Of what was never here all is said by that it is no lot.
  const bare = isOfPicturesAlone(record) ? [] : [NOT_EXAMINED];
  const lead = answers[0]?.determined ? away : [...away, ...held];
  const rest = ofSeveral(open, all, whole([...words(lead), ...bare, ...words(nothing)]));
  return [...answers.filter(({ determined }) => determined), rest];
}

function asWritten({ words, whole }: Written, known: Sentence[]) {
  return whole(words(known));
}

/** One answer to so many of the questions, that nobody reads the same five times. */
function ofSeveral(some: number, all: number, answer: Sentence[]): Answered {
  const which = some < all ? "The other" : "All";
  return { question: `${which} ${countInWords(some)} questions`, answer, determined: false };
}

type Made = ReturnType<typeof madeOf>;

function madeOf(described: Described) {
  return {
    found: findingSentences(described, "all"),
    told: toldSentences(described),
    denials: denialSentences(described),
    origins: originSentences(described),
    trials: trialSentences(described, "said"),
    failed: failedTrials(described),
    cautions: cautionSentences(described),
    limits: clearanceSentences(described),
    opinions: opinionSentences(described.book, described.record),
    checkIn: isTakenUp(described) ? [] : checkInSentences(described.record),
  };
}

function answerTo(
  described: Described,
  made: Made,
  question: Question,
  written: Written,
  isBare: boolean,
): Answered {
  const { record } = described;
  const cautions = made.cautions.filter(() =>
    standingCautions(record).some((one) => isCautionAsked(described, question, one)),
  );
  const limits = made.limits.filter(({ keys }) =>
    clearedCautions(record).some(
      (one) => keys.includes(`held/${one.id}`) && isCautionAsked(described, question, one),
    ),
  );
  if (isNotPut(described, question)) {
    const answer = written.whole(
      written.words(withUnsettled(record, [...notPut(described, question), ...cautions, ...limits])),
    );
    return { question: question.question, answer, determined: false };
  }
  const isOfIt = (finding: FindingValue) =>
    bears(described, question, finding) || isLeftTo(described, question, finding);
  const found = made.found.filter(({ about }) => about.some(isOfIt));
  const told = made.told.filter(({ about }) => about.some(isOfIt));
  const origins = made.origins.filter(({ about }) =>
    about.some((zone) => isOfOrigin(described, question, zone)),
  );
  const denied = made.denials.filter(({ about }) =>
    about.some((denial) => isDenialOf(described, question, denial)),
  );
  const trials = made.trials.filter(({ about }) => isTrialOf(described, made, question, about));
  const facts = [...askedFacts(described, question), ...marksAsked(described, question)];
  const isInFact = ({ about }: TrialSentence) => facts.some(({ from }) => from.includes(`tests/${about}`));
  const looked = trials.flatMap((trial) => {
    if (isInFact(trial)) return []; // what was weighed stands beside the weight
    if (!trial.look) return [trial];
    const isTold = isLookOfAll(described, keysAsked(described, question), trial.look);
    return isTold ? [] : [ofNothingTold(described, trial, new Set(found.flatMap(({ keys }) => keys)))];
  });
  const told_of = denied.flatMap(({ about }) => about.map(({ zone }) => zone));
  const unread = uncopied(described, question, told_of);
  const isOpinion = question.unless_origin && !isNotThere(described, question);
  const opinions = isOpinion ? made.opinions.filter((one) => !isOfMakerAlone(described, question, one)) : [];
  const isMeant = ({ about }: FindingSentence) => about.some((one) => isMeantBy(described, question, one));
  const others = found.filter((one) => !isMeant(one));
  const onPieces = pieceSentences(described, found);
  const had = question.facts_first ? [] : factsOfHad(described, question, facts);
  // What else bears on the question stands behind the fault that it names, and before what was looked for in vain.
  const all = [
    ...(question.facts_first ? facts : []),
    ...found.filter(isMeant),
    ...others,
    ...onPieces,
    ...unmeasured(described, found),
    ...told,
    ...origins,
    ...opinions,
    ...had,
    ...looked,
    ...denied,
    ...(question.facts_first ? [] : facts.filter((fact) => !had.includes(fact))),
    ...unread,
    ...cautions,
    ...limits,
  ];
  const known = saidOnce(withUnsettled(record, saidOfThem(described, all)), described.apart);
  const said = written.words(known);
  // What nobody has recorded as a finding since stands beside whatever says that there is nothing.
  const isNew = differedSince(record);
  const checkIn = isNew || isCheckInAsked(described, question) ? made.checkIn : [];
  const isFailed = ({ about }: TrialSentence) => made.failed.some(({ test }) => test === about);
  // That a part is the first one is no fault: beside it nothing else is another.
  const isChanged = (zone: string) =>
    deniedBy(described.book, fieldValue(record, `origins/${zone}`)?.origin ?? null).length > 0;
  const changed = origins.filter(({ about }) => about.some(isChanged));
  const isAmongSaid = (some: Sentence[]) => {
    const keys = new Set(some.flatMap((one) => one.keys));
    return said.some((one) => one.keys.some((key) => keys.has(key)));
  };
  const faults = [...found, ...changed, ...trials.filter(isFailed)];
  const named = checkIn.length ? [] : deniedLast(denied, said);
  const examined = nothingToReport(described, question, {
    zones: [
      ...found.flatMap(({ about }) => about.map(({ zone }) => zone)),
      ...origins.flatMap(({ about }) => about),
      ...unread.flatMap(({ about }) => about),
    ],
    denied: denied.flatMap(({ about }) => about),
    from: known.flatMap(({ from }) => from),
    // What is left open may name a zone of which there is only a tick, and so may what nobody tried.
    keys: [...known, ...leftOpen(described, question, known), ...notTried(described, question)].flatMap(
      ({ keys }) => keys,
    ),
    isOfFindings: isAmongSaid([...faults, ...cautions, ...limits]),
    isOfKind: isAmongSaid(faults),
    isBefore: checkIn.length > 0,
    there: named,
  });
  const open = unseenOf(
    described,
    question,
    [...told, ...denied].flatMap(({ about }) => about.map(({ zone }) => zone)),
  );
  const there = thereOf(examined, named);
  const isNamed = isNew && isCheckInNamed(described, question);
  const isDenying =
    examined.length > 0 || known.some(({ from }) => from.some((field) => isOfDenial(described, field)));
  const noted = isDenying || isNamed ? checkIn : [];
  const never = neverHad(described, question, !known.length);
  const isNone = !known.length && isNotThere(described, question);
  const isSilent = !known.length && !examined.length;
  // Where nobody looked there is no opinion to miss: what was not examined, and why, is the answer.
  const lacking =
    isSilent && open.length
      ? [
          ...leftOpen(described, question, known),
          ...notOnRecord(described, question),
          ...notTried(described, question),
        ]
      : lackingIn(described, question, known, unread.length > 0);
  const unseen = isBare ? [] : open;
  const wordsOf = (some: Sentence[]) => written.words(withUnsettled(record, saidOfThem(described, some)));
  // What it has not got comes first where it has nothing of what is asked about.
  const answer = isNone
    ? [...wordsOf(never), ...wordsOf(lacking), ...wordsOf([...examined, ...noted, ...unseen])]
    : [
        ...said,
        ...wordsOf(there),
        ...wordsOf(lacking),
        ...wordsOf([...examined.filter((one) => !there.includes(one)), ...noted, ...unseen, ...never]),
      ];
  // What its name alone says of it nobody has looked at.
  const isByName =
    isBare && known.length > 0 && known.every(({ from }) => from.join() === "short_description");
  const end = isByName ? [NOT_EXAMINED] : [];
  const none = isBare ? NOT_EXAMINED : NOT_NOTED;
  return {
    question: question.question,
    answer: written.whole(answer.length || known.length ? [...answer, ...end] : [none]),
    determined: said.length > 0,
  };
}

/** Whether a field says that there is nothing of something: what was looked for in vain, or what may be stated. */
function isOfDenial({ plan }: Described, field: string) {
  const stated = plan.negatives.some(
    ({ negative, terms }) => terms.length && field === `statements/${negative}`,
  );
  return field.startsWith("denials/") || stated;
}

/** The zones of what was looked for in vain, where that is what was said last; of the whole there is no "there". */
function deniedLast(denied: DenialSentence[], said: Sentence[]): string[] {
  const last = said.at(-1)?.words;
  const zones = denied.flatMap(({ words, about }) => (words === last ? about.map(({ zone }) => zone) : []));
  return zones.includes(WHOLE) ? [] : [...new Set(zones)];
}

/**
 * Whether a test is asked for; of zones of which a question asks all, whatever was tried on them is told. One that
 * failed is told where a fault that it could not rule out would be, but for what is asked of what is original.
 */
function isTrialOf(described: Described, { failed }: Made, question: Question, about: string) {
  const { tests } = described.plan;
  if (question.tests.includes(about)) return true;
  if (isOfSwept(described, question, about)) return true;
  const fault = failed.find(({ test }) => test === about);
  // That somebody looked with a light, or did not, is told wherever it bears on what is asked.
  const isLook = tests.some(({ test, looks }) => test === about && looks);
  if ((fault || isLook) && question.told_tests?.includes(about)) return true;
  if (fault && !question.unless_origin && isFaultOf(described, question, fault)) return true;
  if (!question.tests.length || question.terms.length) return false;
  const zones = tests.find(({ test }) => test === about)?.of ?? [];
  return zones.length > 0 && zones.every((zone) => question.zones.includes(zone));
}

/** Whether a test was not made that alone shows a zone that is asked about: a tick among others says nothing of it. */
function isOfSwept({ plan, record }: Described, question: Question, about: string) {
  const shown = plan.tests.find(({ test }) => test === about)?.shows ?? [];
  return (
    fieldValue(record, `tests/${about}`)?.result === "not-done" &&
    shown.some((zone) => question.zones.includes(zone) && isSweptUnshown(plan, record, zone))
  );
}

/** Whether a test tells of a fault that a question names, or of any on zones of which it names none. */
function isFaultOf({ plan, book }: Described, question: Question, test: FunctionTest) {
  const zones = zonesTried(test);
  const named = [...question.terms, ...question.anywhere];
  const isNamed = test.rules_out?.terms.some((term) => isAmong(book, named, term));
  // What was not wholly seen may have any fault.
  if (test.shows?.length) return test.shows.some((zone) => isAsked(plan, question, zone));
  if (!zones.length) return isNamed;
  return (isNamed || !question.terms.length) && zones.some((zone) => isAsked(plan, question, zone));
}

/** Whether an opinion is of who made it, and nobody asks that: it says nothing of whether a frame is original. */
function isOfMakerAlone({ book }: Described, { facts, zones, unless_origin }: Question, { words }: Sentence) {
  const isNamed = zones.some((zone) => isNamedIn(words, zoneNameOf(book, zone)));
  const isOfAll = OF_BELONGING.test(unless_origin ?? "");
  return !isOfAll && !isNamed && !facts.some((fact) => OF_MAKER.includes(fact)) && MADE_BY.test(words);
}

/** That it has what is asked for: before it is told that others were looked for. */
function factsOfHad({ record }: Described, { if_there }: Question, facts: Sentence[]) {
  if (!if_there || !isKnownToHave(record, if_there.zone, if_there.named ?? [])) return [];
  return facts.filter(({ keys }) => keys.includes(`there/${if_there.zone}`));
}

/** What the question asks for and the record does not hold. */
function lackingIn(
  described: Described,
  question: Question,
  known: Sentence[],
  isUncopied: boolean,
): Sentence[] {
  if (isNotThere(described, question)) {
    // A date may be known of what has no title leaf; of what has no mark, nobody misses the wording.
    const facts = question.facts.filter((fact) => fact !== "marks" && !question.zones.includes(fact));
    const leaves_open = (question.leaves_open ?? []).filter(({ of }) => !of.length);
    return [
      ...leftOpen(described, { ...question, leaves_open }, known),
      ...notOnRecord(described, { ...question, facts }),
    ];
  }
  // Whether there is any mark is asked already.
  const ofMarks = (question.leaves_open ?? []).filter(
    (one) => one.if_none?.length && one.facts?.includes("marks"),
  );
  const isMarkOpen = leftOpen(described, { ...question, leaves_open: ofMarks }, known).length > 0;
  return [
    ...noOpinion(described, question, known),
    ...leftOpen(described, question, known),
    ...notOnRecord(described, question, isUncopied || isMarkOpen),
    ...notTried(described, question),
  ];
}

type OnZone = { zone: string; term: string; note?: string };

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
function isLeftTo(described: Described, question: Question, finding: FindingValue) {
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
function isMeantBy({ plan, book }: Described, question: Question, { zone, term }: OnZone) {
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
function isDenialOf({ plan, book }: Described, question: Question, { zone, term }: OnZone) {
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
function isOfOrigin(described: Described, question: Question, zone: string) {
  const { plan, book, record } = described;
  const isChanged = deniedBy(book, fieldValue(record, `origins/${zone}`)?.origin ?? null).length > 0;
  if (isAsked(plan, question, zone)) return isChanged || !question.aside.includes(ORIGINALITY);
  return zone === WHOLE && isChanged && Boolean(question.unless_origin) && !isNotThere(described, question);
}

function isAmong(book: PlanBook, terms: string[], term: string) {
  return terms.some((known) => related(book, known, term));
}

/** Asked whether something is original or belongs, silence is no opinion, however well it was looked at. */
function noOpinion(described: Described, question: Question, known: Sentence[]): Sentence[] {
  const { plan, book, record } = described;
  const unless_origin = unlessOrigin(described, question);
  if (!unless_origin || (question.in_one && isAskedOf(record, question.in_one))) return [];
  const named = question.zones.filter((zone) => isNamedIn(unless_origin, zoneNameOf(book, zone)));
  // Of a frame that is not there nobody asks whether it is the original one.
  const isRestGone = (question.of_rest?.zones ?? []).every((zone) => isGone(described, zone));
  const isOfWhole = question.of_rest && question.zones.includes(WHOLE);
  if (isRestGone && !isOfWhole && named.length && named.every((zone) => isGone(described, zone))) return [];
  if (isOfNothing(described, question)) return [];
  const isOfBelonging = OF_BELONGING.test(unless_origin);
  // That it was seen out of its frame is no opinion of the frame.
  const isOfLook = (statement: string) =>
    plan.negatives.some(({ negative, shows }) => negative === statement && shows?.length);
  const isOpinion = (field: string) =>
    question.statements.some((one) => field === `statements/${one}` && !isOfLook(one)) ||
    (isOfBelonging ? isOfAnothers : isOfIntervention)({ book, record }, field);
  const isOfQuestion = ({ id, value }: Listed<Families["origins"]>) =>
    value.origin !== null &&
    !(isOfBelonging && MADE_OF_IT.includes(value.origin)) &&
    isAsked(plan, question, id);
  const origins = listed(record, "origins/").filter(isOfQuestion);
  const opinions = known.flatMap(({ from }) => from.filter(isOpinion));
  if (isJudged(described, question)) return [];
  // What we think of the whole may answer it or not: the words are the valuer's own.
  const concluded = known.find(({ from }) => from.includes("concluded_words"))?.words ?? "";
  const begin = concluded ? "beyond this, " : "";
  const isIn = (words: string, zone: string) => isNamedIn(words, zoneNameOf(book, zone));
  const thought = question.zones.filter((zone) => isIn(concluded, zone));
  if (!origins.length && !opinions.length && !thought.length) {
    const ofRest = question.of_rest?.zones ?? [];
    const named = ofRest.filter((zone) => isIn(unless_origin, zone));
    const meant = OF_THEM.test(unless_origin) ? ofRest : named;
    const isOfGone = meant.some((zone) => isGone(described, zone));
    const rest = isOfGone ? noOpinionOfRest(described, question, [], begin) : [];
    if (rest.length) return rest;
    // Nobody looked at what is there of it: what the thing never had is not asked for with that.
    const there = isOfGone ? meant.filter((zone) => !isGone(described, zone)) : [];
    if (!there.length || !question.of_rest) return [sentence(begin + unless_origin, [])];
    const { words, many } = placesOf(plan, book, there, "all");
    const is = many ? question.of_rest.many : question.of_rest.one;
    return [sentence(`${begin}whether ${words} ${is} was not noted`, [])];
  }
  const judged = [
    ...thought,
    ...origins.map(({ id }) => id),
    ...opinions.map((field) => (fieldValue(record, field as `findings/${string}`) as Partial<OnZone>).zone),
  ];
  // What is said of the examination itself, such as "not determined whether they belong", names no zone.
  return judged.every((zone) => zone !== undefined)
    ? noOpinionOfRest(described, question, judged, begin, {
        onPieces: onPiecesAlone(described, opinions, judged),
        inPart: judgedInPart(described, opinions, judged),
      })
    : [];
}

/** Zones of several things, such as handles, of which all that was judged is some: how many is open, or not all. */
function judgedInPart({ book, record }: Described, opinions: string[], judged: (string | undefined)[]) {
  const found = opinions.flatMap((field) =>
    field.startsWith("findings/") ? (fieldValue(record, field as `findings/${string}`) ?? []) : [],
  );
  const countOf = (zone: string) => fieldValue(record, `zones/${zone}`)?.count ?? 0;
  const isInPart = ({ zone, note, extent_count, extent_percent }: FindingValue) => {
    const { plural, together } = zoneNameOf(book, zoneOf(zone));
    if (!plural || together || zone.includes("/") || extent_percent || countOf(zone) === 1) return false;
    return extent_count ? extent_count < countOf(zone) : !OF_ALL.test(note);
  };
  const zones = [...new Set(found.map(({ zone }) => zone))].filter((zone) => {
    const here = found.filter((one) => one.zone === zone);
    return here.every(isInPart) && judged.filter((one) => one === zone).length === here.length;
  });
  return zones.map((zone) => ({ zone, isCounted: countOf(zone) > 1 }));
}

/** Whether a thing has none of what such a question is put of: of no lacquer nobody asks whether it is the first. */
function isOfNothing(described: Described, { zones, of_rest }: Question) {
  const isOfAll = zones.some((zone) => zone === WHOLE || zoneNameOf(described.book, zone).tally);
  return !isOfAll && Boolean(of_rest?.zones.every((zone) => isGone(described, zone)));
}

/** The zones of which all that was judged is what was found on one piece, or some, of several. */
function onPiecesAlone({ record }: Described, opinions: string[], judged: (string | undefined)[]) {
  const zones = opinions.flatMap((field) => {
    const found = field.startsWith("findings/") && fieldValue(record, field as `findings/${string}`);
    return found && isOnSomePieces(record, found) ? found.zone : [];
  });
  const isAlone = (zone: string) =>
    judged.filter((one) => one === zone).length === zones.filter((one) => one === zone).length;
  return new Set(zones.filter(isAlone));
}

/** Whether what was found is what a question takes for an opinion on what is original, or belongs. */
function isOpinionOf({ book }: Described, { unless_origin }: Question, term: string) {
  if (OF_BELONGING.test(unless_origin ?? "")) return isAmong(book, ANOTHERS, term);
  return termOf(book, term)?.family === INTERVENTION && !MENDS.includes(term);
}

function unlessOrigin(described: Described, { unless_origin, unless_origin_of_several }: Question) {
  const isMany = itOrThem(described) === "them" || isOfMany(described);
  return (isMany && unless_origin_of_several) || unless_origin;
}

/** Of which of the zones that are asked about, and that are there and were examined, nobody said so much. */
function noOpinionOfRest(
  described: Described,
  question: Question,
  judged: string[],
  begin: string,
  some: { onPieces: ReadonlySet<string>; inPart: { zone: string; isCounted: boolean }[] } = {
    onPieces: new Set(),
    inPart: [],
  },
): Sentence[] {
  const { plan, book } = described;
  const { of_rest } = question;
  if (!of_rest) return [];
  // Of a thing that has none of the rest, what was judged is a part, and the whole is still asked for.
  if (isOfWhole(described, question, judged))
    return [sentence(begin + (unlessOrigin(described, question) ?? ""), [])];
  const rest = plan.zones
    .filter(({ zone }) => of_rest.zones.includes(zone))
    .flatMap(keysOf)
    .filter((key) => isExamined(described, key) && !isGone(described, zoneOf(key)))
    .filter((key) => !isMissing(described, key) && !judged.some((zone) => touch(plan, zone, key)));
  // What is said of one piece leaves open how it is with the others, though all of them were looked at.
  const isOfRest = (key: string) => of_rest.zones.includes(zoneOf(key));
  const onOthers = placesOnOthers(described, [...some.onPieces].filter(isOfRest), ({ term }) =>
    isOpinionOf(described, question, term),
  );
  const left = some.inPart.filter(({ zone }) => isOfRest(zone) && !some.onPieces.has(zone));
  const ofOthers = [
    ...onOthers,
    ...left.map(({ zone, isCounted }) => ({
      words: `${isCounted ? "the" : "any"} other ${nounOf(zoneNameOf(book, zone), 2)}`,
      many: true,
    })),
  ];
  if (!rest.length && !ofOthers.length) return [];
  const { words, many } = placesOf(plan, book, rest, hasOneEach(book, described.record) ? "unseen" : "all");
  const others = listInWords(ofOthers.map((one) => one.words));
  // "The eyes, the pads, and the left ear of the second": that is of the ear alone.
  const named = [...(rest.length ? [words] : []), ...(others ? [others] : [])].join(
    rest.length > 1 ? ", and " : " and ",
  );
  const isMany = (rest.length > 0 && (many || ofOthers.length > 0)) || ofOthers.some((one) => one.many);
  const is = isMany || ofOthers.length > 1 ? of_rest.many : of_rest.one;
  return [sentence(`${begin}whether ${named}${named.includes(", and ") ? "," : ""} ${is} was not noted`, [])];
}

function isOfWhole(described: Described, { zones, of_rest }: Question, judged: string[]) {
  const isWholeAsked = zones.includes(WHOLE) && !judged.includes(WHOLE);
  return isWholeAsked && Boolean(of_rest?.zones.every((zone) => isGone(described, zone)));
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

/** Whether a field is a finding or a denial of something new, or of another thing. */
function isOfAnothers({ book, record }: Pick<Described, "book" | "record">, field: string) {
  const { term, origin = null } = (record.fields[field]?.value ?? {}) as Partial<FindingValue>;
  if (!term) return false;
  return isAmong(book, ANOTHERS, term) || deniedBy(book, origin).some((one) => ANOTHERS.includes(one));
}
