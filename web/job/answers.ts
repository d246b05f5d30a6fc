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
import { bears, isDenialOf, isLeftTo, isMeantBy, isOfOrigin } from "./bears_on.ts";
import { namedFor } from "./called.ts";
import { clearedCautions, isStopped, standingCautions } from "./cautions.ts";
import { differedSince } from "./condition.ts";
import { type DenialSentence, denialSentences } from "./denials.ts";
import { countInWords } from "./english.ts";
import { type Apart, type Described, deniedBy, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { type FindingSentence, findingSentences, toldSentences } from "./finding_sentences.ts";
import { isGoneHome } from "./gone_home.ts";
import { asOneOfParts } from "./in_its_parts.ts";
import { isLookOfAll, ofNothingTold } from "./look_sentences.ts";
import { nothingAtAll, saidOfThem } from "./looked.ts";
import { opinionSentences } from "./lot.ts";
import { isOfMakerAlone, noOpinion } from "./opinions_asked.ts";
import { originSentences } from "./origins.ts";
import { cautionSentences, checkInSentences, clearanceSentences, goneSentences } from "./paragraph.ts";
import { awaySentences, pieceSentences } from "./piece_sentences.ts";
import { type Sentence, saidOnce } from "./sentences.ts";
import { isTakenUp } from "./taken_up.ts";
import { planFor } from "./tests_fitted.ts";
import { isKnownToHave, isOfPicturesAlone } from "./there.ts";
import { failedTrials, type TrialSentence, trialSentences } from "./trials.ts";
import { isTrialOf } from "./trials_asked.ts";
import type { Plan, PlanBook, Question, RecordCopy } from "./types.ts";
import { uncopied } from "./uncopied.ts";
import { unmeasured } from "./unmeasured.ts";
import { apartUnsettled, withUnsettled } from "./unsettled.ts";
import { isNotThere, keysAsked, notTried } from "./untried.ts";
import { fieldValue } from "./values.ts";

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
  const trials = made.trials.filter(({ about }) => isTrialOf(described, made.failed, question, about));
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
