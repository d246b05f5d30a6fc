/**
 * The zones that a question asks about: every one of them is named in its answer, as one on which something was found
 * or looked for, one with nothing to report, one that nobody looked at, or one that the thing never had.
 */

import { fittingIn } from "./called.ts";
import { clearedCautions, standingCautions } from "./cautions.ts";
import { checkOf } from "./compared.ts";
import { type Described, related, seenFindings, termOf, touch, WHOLE } from "./families.ts";
import type { FindingValue, MarkValue } from "./fields.ts";
import { isMissing, isNone, MISSING } from "./gone.ts";
import { howWords, lightOf } from "./lights.ts";
import {
  bareNames,
  isBlank,
  isOneLight,
  isOnlyDenied,
  itOrThem,
  nothingAtAll,
  unseenKey,
  unseenSentences,
  withoutSentences,
} from "./looked.ts";
import { ANY, isCopyOf, wordingOf } from "./mark_on.ts";
import { markSentences } from "./marks.ts";
import { isSoundOnOthers, placesOnOthers } from "./other_pieces.ts";
import { PAPERS } from "./papers.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import { isOfOtherKind, keysOf } from "./progress.ts";
import { placesSeen } from "./seen_in_part.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isSweptUnshown, isUnseenAfterAll, isUntried } from "./sight.ts";
import { shortCounts } from "./sizes.ts";
import { isInName, isNamedIn, isThere } from "./there.ts";
import { failedTrials, isLeftOpenBy, isOfNoZone } from "./trials.ts";
import type { FunctionTest, Measure, Plan, Question } from "./types.ts";
import { foundAround, isExamined, restsOn } from "./uncopied.ts";
import { placesUnseen } from "./unseen_words.ts";
import { isMade, keysAsked, untriedKey } from "./untried.ts";
import { fieldValue, groupedBy, type Listed, listed, saidOf } from "./values.ts";

const INTERVENTION = "previous intervention";
const DOCUMENTS = "documents";
/** What is cut off one zone is cut off the next. */
const TRIMMED = "trimmed";

/**
 * What an answer has said: the zones that it named, the faults that it denied, the fields it rests on and
 * what it speaks of, whether something was found, and whether it tells of what differed when it was checked in.
 */
export type Said = {
  zones: readonly string[];
  denied: readonly Denied[];
  from: readonly string[];
  keys: readonly string[];
  isOfFindings: boolean;
  /** The same of what is a fault or a change, and no caution. */
  isOfKind: boolean;
  isBefore: boolean;
  /** The zones of which its last sentence denies something: "these" are those. */
  there: readonly string[];
};
type Denied = { zone: string; term: string };

/**
 * Whether a caution that stands bears on a question: it is one that is asked for, or stands on a zone asked about, or
 * its sign and the question both name that: mottled shell on the frog.
 */
export function isCautionAsked(
  { plan, book, record }: Described,
  question: Question,
  { value, on }: Standing,
) {
  const { facts, hazards = [] } = question;
  // Under the one question that it bears on it would tell what stays inside.
  if (isNeverSaid({ book }, { value })) return false;
  if (facts.includes("cautions") || hazards.includes(value.hazard)) return true;
  const names = question.zones.map((zone) => zoneNameOf(book, zone));
  if (names.some((name) => isNamedIn(value.sign, name) && isNamedIn(question.question, name))) return true;
  return on === record && value.zone !== null && value.zone !== WHOLE && isAsked(plan, question, value.zone);
}

/** Whether a caution is one of which nobody is told what it is for. */
export function isNeverSaid({ book }: Pick<Described, "book">, { value }: Pick<Standing, "value">) {
  return book.cautions.cautions.some(({ hazard, unsaid }) => hazard === value.hazard && unsaid);
}

/** Whether what differed at the check-in may be on a zone asked about: where it names none, it may be on any. */
export function isCheckInAsked(described: Described, question: Question) {
  return !zonesNoted(described).length || isCheckInNamed(described, question);
}

/** Whether what differed at the check-in names a zone that is asked about. */
export function isCheckInNamed(described: Described, question: Question) {
  return zonesNoted(described).some(({ zone }) => isAsked(described.plan, question, zone));
}

/** The zones that are named in what was noted at the check-in. */
function zonesNoted({ plan, book, record }: Described) {
  const words = checkOf(record)?.value.words ?? "";
  return plan.zones.filter(({ zone }) => {
    const name = zoneNameOf(book, zone);
    return isNamedIn(words, name) || name.also?.some((noun) => isNamedIn(words, { ...name, one: noun }));
  });
}

type Standing = ReturnType<typeof standingCautions>[number];

/** Whether a caution stands on a zone, or on nothing by name where it, or any, is what is asked for. */
function isUnderCaution(
  { plan, record }: Described,
  { facts, hazards = [] }: Question,
  key: string,
  limits: readonly string[],
) {
  const limited = clearedCautions(record).filter(({ id }) => limits.includes(`held/${id}`));
  return [...standingCautions(record), ...limited].some(({ value, on }) =>
    on !== record || !value.zone || value.zone === WHOLE
      ? facts.includes("cautions") || hazards.includes(value.hazard)
      : touch(plan, value.zone, key),
  );
}

/** The whole is asked about only where it is named. */
export function isAsked(plan: Plan, question: Question, zone: string) {
  if (zone === WHOLE) return question.zones.includes(WHOLE);
  return question.zones.some((asked) => asked !== WHOLE && touch(plan, asked, zone));
}

/**
 * Zones that were examined and of which the answer has said nothing, or has denied less than the question asks for:
 * what else was looked for there is not known, only with what. Where something else was found around a zone, or a trial
 * or a count of it failed that is no answer, there is nothing to report on this question alone. Of one that failed
 * where the answer tells of it, or on which a caution stands, nothing else was noted: there is something to report.
 */
export function nothingToReport(described: Described, question: Question, said: Said): Sentence[] {
  const { plan, book, record } = described;
  const isOf = (key: string, zone: string) => zoneOf(zone) === zoneOf(key) && touch(plan, zone, key);
  const isNamed = (key: string) =>
    said.zones.some((zone) => isOf(key, zone)) ||
    isCutWith(described, said.from, key) ||
    said.keys.includes(`there/${key}`) ||
    isOfNoMark(described, said.from, key) ||
    (!isBesideNamed(described, key, said.zones) &&
      said.from.some((field) => isOfMark(described, field, key))) ||
    isDenied(described, question, key, said.denied);
  const untried = said.from.filter(
    (field) => fieldValue(record, field as `tests/${string}`)?.result === "not-done",
  );
  // Of what the answer says that nobody tried, a tick says nothing: a shutter that was not fired.
  const isToldUntried = (key: string) =>
    plan.zones.some(
      (zone) =>
        keysOf(zone).includes(key) &&
        zone.tests?.some((test) => untried.includes(`tests/${test}`)) &&
        isUntried(record, zone, key),
    );
  const isToldOfTest = ({ test }: FunctionTest) =>
    untried.includes(`tests/${test}`) || said.keys.includes(untriedKey(test));
  const isByTrial = (key: string) => {
    if (!question.by_trial?.includes(zoneOf(key))) return false;
    const tests = plan.tests.filter((test) => !test.looks && isTriedBy(test, zoneOf(key)));
    return tests.some(isToldOfTest) && !tests.some(({ test }) => isMade(record, test));
  };
  const looked = keysAsked(described, question).filter(
    (key) =>
      !isByTrial(key) &&
      !zoneNameOf(described.book, zoneOf(key)).tally && // nobody knows what a fault of a number is
      !question.faults_only?.includes(zoneOf(key)) &&
      isLeft(described, key) &&
      !plan.zones.some((zone) => keysOf(zone).includes(key) && isUnseenAfterAll(record, zone, key)) &&
      !isToldUntried(key) &&
      !isSweptUnshown(plan, record, key) &&
      isExamined(described, key),
  );
  // Of the whole it is told that it does not smell: its form is no part that anybody asked for.
  const isWholeTold = said.denied.some(({ zone }) => zone === WHOLE);
  const keys = looked.filter((key) => !isNamed(key) && !(key === WHOLE && isWholeTold));
  const failed = failedTrials(described);
  const isToldOf = ({ test }: FunctionTest) => said.from.includes(`tests/${test}`);
  const short = shortCounts(described);
  const isCountTold = ({ measure }: Measure) => said.from.includes(`measures/${measure}`);
  const isShort = ({ rules_out }: Measure, key: string) =>
    rules_out?.zones.some((zone) => touch(plan, zone, key));
  const isTroubled = (key: string) =>
    isUnderCaution(described, question, key, said.keys) ||
    isInDispute(described, key) ||
    isUnread(described, question, key) ||
    said.keys.includes(`uncopied/${key}`) ||
    short.some((count) => isCountTold(count) && isShort(count, key)) ||
    failed.some((test) => isToldOf(test) && (isOfNoZone(test) || isLeftOpenBy(plan, test, key)));
  const troubled = keys.filter(isTroubled);
  // Of a pair of which the answer tells what is on one, the other is asked about, too.
  const onOthers = looked.filter(
    (key) =>
      !keys.includes(key) &&
      said.zones.includes(key) &&
      isSoundOnOthers(described, key) &&
      !isDenied(described, question, key, said.denied) &&
      !isTroubled(key),
  );
  const others = [...keys.filter((key) => !troubled.includes(key)), ...onOthers];
  const isUnsaid = ({ id }: Listed<FindingValue>) => !said.from.includes(`findings/${id}`);
  const isOther = (key: string) =>
    foundAround(described, key).some(isUnsaid) ||
    failed.some((test) => isLeftOpenBy(plan, test, key)) ||
    short.some((count) => isShort(count, key));
  const other = said.isOfFindings ? "further " : "";
  const before = said.isBefore ? "before it was checked in, " : "";
  // A filling is seen in no light, whichever was on; what it was tried with is told.
  const isFelt = (key: string) =>
    !isOneLight(described) &&
    lightOf(book, fieldValue(record, `zones/${key}`)?.light ?? "").sense === "sight" &&
    plan.zones.some(({ zone, felt }) => felt && zone === zoneOf(key));
  const lightOn = (key: string) => (isFelt(key) ? "" : (fieldValue(record, `zones/${key}`)?.light ?? ""));
  // Each light has its own zones: nobody is told of one that was not used on them, nor again of the only one.
  const byLight = (some: string[]) =>
    [
      ...groupedBy(some, (key) => {
        return JSON.stringify([lightOn(key), described.apart?.(clearKey(key))]);
      }).values(),
    ].map((lit) => [lightOn(lit[0] as string), lit] as const);
  const nothingOn = (some: string[], nothingIn: (lit: string[]) => string) => {
    const lights = byLight(some);
    const apartOf = (keys: string[]) => described.apart?.(clearKey(keys[0] ?? "")) ?? "";
    const isOfTouch = (keys: string[]) => keys.every(isFelt);
    // It goes with what was seen: "on the cover under a lamp, or on the filling".
    const feltWith = (keys: string[]) =>
      isOfTouch(keys)
        ? []
        : lights.flatMap(([, felt]) => {
            const host = lights.find(([, other]) => !isOfTouch(other) && apartOf(other) === apartOf(felt));
            return isOfTouch(felt) && host?.[1] === keys ? felt : [];
          });
    const isJoined = (keys: string[]) =>
      isOfTouch(keys) && lights.some(([, other]) => feltWith(other).includes(keys[0] ?? ""));
    return lights.flatMap(([light, lit]) => {
      if (isJoined(lit)) return [];
      const felt = feltWith(lit);
      const known = light ? lightOf(described.book, light, lit[0]) : null;
      const how = known && !isOneLight(described) ? ` ${howWords(known)}` : "";
      const where = lookedAt(described, lit, said.there, onOthers);
      const touched = felt.length ? `, or ${lookedAt(described, felt, [], onOthers)}` : "";
      return examinedZones(
        described,
        [...lit, ...felt],
        `${before}${nothingIn([...lit, ...felt])} ${where}${how}${touched}`,
      );
    });
  };
  const isOpen = (key: string) =>
    foundAround(described, key).some(isUnsaid) ||
    isInDispute(described, key) ||
    failed.some((test) => !isToldOf(test) && isLeftOpenBy(plan, test, key)) ||
    short.some((count) => !isCountTold(count) && isShort(count, key));
  return [
    ...nothingOn(troubled, (lit) => {
      const isDisputed = lit.some((key) => isInDispute(described, key));
      if (!lit.some(isOpen)) return "nothing further noted";
      const isHeld = lit.some((key) => isUnderCaution(described, question, key, said.keys));
      return nothingElse(question, said.isOfKind, isDisputed || isHeld, isDisputed);
    }),
    ...nothingOn(others, (lit) => {
      return lit.some(isOther) ? nothingAsked(question, other) : `no ${other}fault noted`;
    }),
  ];
}

function isTriedBy({ of = [], rules_out }: FunctionTest, zone: string) {
  return of.includes(zone) || Boolean(rules_out?.zones.includes(zone));
}

/** Whether anything said of a zone, on it or on a part of it, was said otherwise as well, and is not settled. */
function isInDispute({ plan, record }: Described, key: string) {
  return record.disagreements.some(({ field, settled }) => {
    if (settled) return false;
    const [family = "", ...rest] = field.split("/");
    if (family === "origins") return touch(plan, rest.join("/"), key);
    if (family !== "findings" && family !== "denials") return false;
    const said = saidOf(record, field as "findings/");
    return said.some(({ value: { zone } }) =>
      [zone, key].includes(WHOLE) ? zone === key : touch(plan, zone, key),
    );
  });
}

/** Beside what is no answer: nothing of what is asked for, or no later work where it is whether a thing is original. */
function nothingAsked({ unless_origin }: Question, other: string) {
  return unless_origin ? "no sign of later work noted" : `no ${other}such fault noted`;
}

/** The same of a zone that the answer speaks of, or that is in dispute: of it there is something to report. */
function nothingElse(
  { unless_origin, terms }: Question,
  isFound: boolean,
  isDoubted: boolean,
  isDisputed: boolean,
) {
  // "Of the kind" of what was told; where a caution stands something may well be, and nobody says that it is not.
  if (!unless_origin && !isFound && !isDoubted && terms.length) return "no such fault noted";
  if (!unless_origin) return `nothing ${isFound ? "further of the kind" : "of the kind asked for"} noted`;
  return isDisputed ? "no other later work noted" : "no later work noted";
}

/** Whether any of a zone is there for all that is known: of a pair of which one is missing, if both were counted. */
function isLeft(described: Described, key: string) {
  const { record } = described;
  if (isMissing(described, key) || isMissing(described, zoneOf(key))) return false;
  const gone = seenFindings(record).filter(
    ({ value }) => value.term === MISSING && [key, zoneOf(key)].includes(value.zone),
  );
  const lost = gone.reduce((sum, { value }) => sum + (value.extent_count ?? 0), 0);
  return !lost || (fieldValue(record, `zones/${key}`)?.count ?? 0) > lost;
}

/** Whether the answer names another zone of what has one name together: its mark is the one that is told. */
function isBesideNamed({ book }: Described, key: string, named: readonly string[]) {
  const { group } = zoneNameOf(book, zoneOf(key));
  return named.some(
    (zone) => zone !== key && group && zoneNameOf(book, zoneOf(zone)).group?.group === group.group,
  );
}

/** Whether a field is a mark that stands on a zone and of which somebody said what it is held for. */
function isOfMark({ plan, record }: Described, field: string, key: string) {
  if (!field.startsWith("marks/")) return false;
  const mark = fieldValue(record, field as `marks/${string}`);
  return Boolean(mark?.standing && isCopyOf(wordingOf(plan, key), mark));
}

/** Whether an answer tells that what a zone goes on into was trimmed on that side: a margin with its edge. */
function isCutWith(described: Described, from: readonly string[], key: string) {
  const [, side] = key.split("/");
  return foundAround(described, key).some(
    ({ id, value: { term, zone } }) =>
      term === TRIMMED &&
      side !== undefined &&
      zone.split("/")[1] === side &&
      from.includes(`findings/${id}`),
  );
}

/** Whether an answer says that no marks were found: of those that stand on a zone there is nothing else to tell. */
function isOfNoMark({ plan, record }: Described, from: readonly string[], key: string) {
  const isFoundOn = seenFindings(record).some(({ value }) => value.zone === key);
  return from.includes("marks_looked") && wordingOf(plan, key).length > 0 && !isFoundOn;
}

/** The marks of zones that a question asks about, where it asks for no others: what the bookplate says. */
export function marksAsked({ plan, book, record, apart }: Described, { facts, zones }: Question): Sentence[] {
  if (facts.includes("marks")) return [];
  const wording = zones.flatMap((zone) => wordingOf(plan, zone)).filter((word) => word !== ANY);
  const isAskedFor = (name: string) =>
    listed(record, "marks/").some(({ id, value }) => name === `marks/${id}` && isCopyOf(wording, value));
  const fields = Object.entries(record.fields).filter(
    ([name]) => name !== "marks_looked" && (!name.startsWith("marks/") || isAskedFor(name)),
  );
  return wording.length
    ? markSentences(plan, book, { ...record, fields: Object.fromEntries(fields) }, apart)
    : [];
}

/** Whether marks are not what a question asks for, or one of them cannot all be read: it may be on any zone. */
function isUnread({ plan, record }: Described, { facts }: Question, key: string) {
  if (!wordingOf(plan, key).length) return false;
  const isOfMarks = facts.includes("marks") || facts.includes("imprint");
  return !isOfMarks || listed(record, "marks/").some(({ value }) => !value.withdrawn && !isWholly(value));
}

function isWholly({ completeness }: MarkValue) {
  return !completeness || completeness === "complete";
}

/** Whether all that a question asks of a zone was denied there; one that names no fault asks for all of them. */
function isDenied(
  { plan, book }: Described,
  { terms, anywhere }: Question,
  key: string,
  denied: readonly Denied[],
) {
  const here = denied.filter(({ zone }) => zoneOf(zone) === zoneOf(key) && touch(plan, zone, key));
  // That nothing was filled says nothing of what was restuck: of what was done to it each is looked for by itself.
  const isOfWork = (term: string) => termOf(book, term)?.family === INTERVENTION;
  const isOne = (term: string) =>
    here.some((denial) => (isOfWork(term) ? denial.term === term : related(book, denial.term, term)));
  return here.length > 0 && terms.length > 0 && [...terms, ...anywhere].every(isOne);
}

function examinedZones(described: Described, keys: string[], words: string): Sentence {
  return sentence(
    words,
    keys.flatMap((key) => restsOn(described, key)),
    keys.map(clearKey),
  );
}

/**
 * That the whole has nothing to report would be said of every part of it: what was looked at is its form, of which
 * nobody is told beside the parts that he asked for. The zones that were named just before are these.
 */
function lookedAt(
  described: Described,
  keys: string[],
  before: readonly string[],
  onOthers: readonly string[],
): string {
  const parts = keys.filter((key) => key !== WHOLE && !onOthers.includes(key));
  const pieces = placesOnOthers(
    described,
    keys.filter((key) => onOthers.includes(key)),
  ).map(({ words }) => words);
  if (!parts.length && pieces.length) return `on ${pieces.join(" or ")}`;
  if (!parts.length) return `on ${itOrThem(described) === "them" ? "their" : "its"} general form`;
  // One zone is named again: "there" might be that of the sentence before.
  const isNamed = before.length > 1 && isOfAll(before, parts);
  const others = isNamed ? parts.filter((key) => !before.includes(key)) : parts;
  const { words } = placesSeen(described, others, "nothing");
  // "The lips, the feet, or the rim of the right one": that is of the rim alone.
  const between = others.length > 1 || pieces.length > 1 ? ", or " : " or ";
  const named = [...(others.length ? [words] : []), ...pieces].join(between);
  return [isNamed ? "on these" : "", named && `on ${named}`].filter(Boolean).join(" or ");
}

/** Of what was examined, the sentence that speaks of the zones of the one right before it: several are "these". */
export function thereOf(examined: Sentence[], before: readonly string[]): Sentence[] {
  return examined.filter(({ keys }) => isOfAll(before.map(clearKey), keys));
}

function isOfAll(some: readonly string[], all: readonly string[]) {
  return some.length > 0 && some.every((one) => all.includes(one));
}

function clearKey(zone: string) {
  return `clear/${zone}`;
}

/**
 * What stands in the way of an answer. `told` are the zones of which the answer tells what the owner says or what was
 * looked for there: nothing else is recorded of them.
 */
export function unseenOf(described: Described, question: Question, told: readonly string[]): Sentence[] {
  const keys = keysAsked(described, question);
  if (!keys.length) return [];
  const isOnly = (key: string) => isBlank(described, key) || isOnlyDenied(described, key);
  const onlyTold = keys.filter((key) => told.includes(key) && isOnly(key));
  // What was looked for there is no matter of this question.
  const elsewhere = keys.filter((key) => !onlyTold.includes(key) && isOnlyDenied(described, key));
  const rest = keys.filter((key) => !onlyTold.includes(key) && !elsewhere.includes(key));
  const nothing = (words: string, zones: string[]) =>
    zones.length
      ? [sentence(`${words} of ${placesUnseen(described, zones, "none")}`, [], zones.map(unseenKey))]
      : [];
  return [
    ...(nothingAtAll(described) ?? (rest.length ? unseenSentences(described, rest) : [])),
    ...nothing("nothing else is recorded", onlyTold),
    ...nothing("nothing of the kind is recorded", elsewhere),
  ];
}

/**
 * The zones asked about that it never had: all of them if it has none and nothing is said, else those that the question
 * names or, where it asks for no fault, that a buyer misses. Nobody is told that a fork has no body. The whole, and
 * what is a count, are no zones that it could lack.
 */
export function neverHad(described: Described, question: Question, isSilent: boolean): Sentence[] {
  const { book, plan, record, apart } = described;
  const missed = new Set(withoutSentences(described).flatMap(({ keys }) => keys));
  const isNever = (key: string) => fieldValue(record, `zones/${key}`)?.reason === "not-applicable";
  const isFoundOn = (zone: string) => seenFindings(record).some(({ value }) => zoneOf(value.zone) === zone);
  const asked = [...question.zones, ...(question.leaves_open ?? []).flatMap(({ of }) => of)];
  const none = plan.zones
    .filter(
      ({ zone }) =>
        asked.includes(zone) &&
        !question.judged?.includes(zone) &&
        zone !== WHOLE &&
        !zoneNameOf(book, zone).tally,
    )
    .filter((zone) => keysOf(zone).every(isNever) && !isFoundOn(zone.zone))
    .filter(({ zone }) => !isInName(described, zone) && !isOfMore(described, zone))
    .filter(({ zone }) => !isSetInPlain(described, zone) && !isNameOfAnother(described, zone))
    .filter(({ zone }) => !isOfItsName(described, zone));
  const isOnly = isSilent && keysAsked(described, question).every((key) => key === WHOLE || isNever(key));
  // What none of its kind has is missed on none: the case of a barometer is its body, and a map has no half-title.
  const ofKind = none.filter((row) => !isOfOtherKind(record, row));
  const told = (isOnly && !ofKind.length ? none : ofKind).filter(
    ({ zone }) =>
      isOnly ||
      (missed.has(withoutKey(zone)) && !question.terms.length) ||
      isNamedIn(question.question, zoneNameOf(book, zone)) ||
      (question.facts.includes("papers") && PAPERS.includes(zone)),
  );
  const groups = groupedBy(told, ({ zone }) => apart?.(withoutKey(zone)) ?? "");
  return [...groups.values()].map((group) => {
    const zones = group.map(({ zone }) => zone);
    const has = itOrThem(described) === "them" ? "they have" : "it has";
    return sentence(
      (isOnly && groups.size === 1 && !isSet(described, zones) && question.none) ||
        (!isSet(described, zones) && saidOfNone(plan, zones)) ||
        (zones.join() === DOCUMENTS && `there are no papers with ${itOrThem(described)}`) ||
        `${has} no ${bareNames(book, zones)}`,
      group.flatMap((zone) => keysOf(zone).map((key) => `zones/${key}`)),
      zones.map(withoutKey),
    );
  });
}

/** Whether what it is said to lack is the name of something else that it has: a stopper without a peg is a stopper. */
function isOfItsName({ plan, book, record }: Described, of: string) {
  const lacking = zoneNameOf(book, of).lacking;
  return plan.zones.some(
    ({ zone }) => zone !== of && isThere(record, zone) && zoneNameOf(book, zone).one === lacking,
  );
}

/** Whether what is there is called by its plain name for want of a zone: of a brooch of 23 stones none is the main. */
function isSetInPlain({ plan, book, record }: Described, of: string) {
  return plan.zones.some(
    ({ zone }) => zoneNameOf(book, zone).beside?.zones.includes(of) && isThere(record, zone),
  );
}

/** What the question that asks of these zones alone has for a thing that has none of them. */
function saidOfNone({ questions }: Plan, of: string[]) {
  const asked = questions.find(
    ({ none, zones }) => none && zones.length > 1 && isOfAll(zones, of) && isOfAll(of, zones),
  );
  return asked?.none;
}

/** Whether what it is said to lack is called as another zone that is there: a stopper without a peg. */
function isNameOfAnother({ plan, book, record }: Described, zone: string) {
  const { lacking } = zoneNameOf(book, zone);
  return plan.zones.some(
    (row) => row.zone !== zone && zoneNameOf(book, row.zone).one === lacking && isThere(record, row.zone),
  );
}

/** Whether a zone is more on such a thing than its plain name says: an atlas without plates has its maps. */
function isOfMore({ book, record }: Described, zone: string) {
  return Boolean(fittingIn(zoneNameOf(book, zone).called, record)?.many?.includes(" and "));
}

/**
 * Whether a question cannot be put to a thing: it never had any of what is asked about, or is called as what has none
 * of it, so that its plan does not ask.
 */
export function isNotPut(
  { plan, record }: Described,
  { put_to = [], not_named = [], put_for = [] }: Question,
) {
  const isOfKind = seenFindings(record).some(({ value }) => put_for.includes(value.term));
  if (isOfOtherKind(record, { not_named }) && !isOfKind) return true;
  const keys = plan.zones.filter(({ zone }) => put_to.includes(zone)).flatMap(keysOf);
  return put_to.length > 0 && keys.every((key) => isNone(record, key));
}

/** What is said of it then, and nothing else. */
export function notPut(described: Described, question: Question): Sentence[] {
  if (!question.none) return neverHad(described, question, true);
  const zones = question.put_to ?? [];
  const asked = described.plan.zones.filter(({ zone }) => zones.includes(zone)).flatMap(keysOf);
  return [
    sentence(
      question.none,
      asked.length ? asked.map((key) => `zones/${key}`) : ["short_description"],
      zones.map(withoutKey),
    ),
  ];
}

/** Whether what stones would be set in is there: that it has no main stone is no word of what else is set in it. */
function isSet({ plan, record }: Described, zones: string[]) {
  return plan.zones.some(
    ({ zone, beside }) => beside?.some((other) => zones.includes(other)) && isThere(record, zone),
  );
}

/** What the paragraph calls a zone that a buyer misses: what the desk made of that holds in the answer, too. */
function withoutKey(zone: string) {
  return `without/${zone}`;
}
