/** What should have been tried or looked at for what bidders ask, and of which nobody said anything. */
import { isAskedOf } from "./called.ts";
import { listInWords } from "./english.ts";
import { type Described, related, seenFindings, touch, WHOLE } from "./families.ts";
import { hasNoWay } from "./forbidden_tests.ts";
import { isMissing } from "./gone.ts";
import { lightOfTest, lightsSeenWith } from "./lights.ts";
import { zoneOf } from "./places.ts";
import { isOfOtherKind, keysOf } from "./progress.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isSeenUntried } from "./sight.ts";
import { statementSentences } from "./statements.ts";
import { isThere, wordsIn } from "./there.ts";
import { isFoundByTrying, isOnNothing, isToldByFinding, undoneWords } from "./trials.ts";
import type { FunctionTest, LeavesOpen, Question, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";

/** What runs and then stops was tried. */
const STOPS = "stops";

/** How lights begin that were not used, but for ultraviolet. */
const UNLIT = "not looked at ";

/**
 * All of it that any question asks for, for the paragraph, where every zone that was not examined is named. Of what
 * nobody examined at all, nobody is told what else was not done.
 */
export function untriedSentences(described: Described): Sentence[] {
  const { plan, book, record, apart } = described;
  const states = listed(record, "zones/");
  if (!states.some(({ value }) => value.state !== "not-examined")) return [];
  const questions = plan.questions.filter((question) => !isNotThere(described, question));
  const tests = questions.flatMap((question) => question.tests);
  const zones = plan.zones.map(({ zone }) => zone);
  const terms = seenFindings(record).map(({ value }) => value.term);
  const stated = listed(record, "statements/").filter(({ value }) => !value.withdrawn);
  const isStatedOf = (of: string[], statements: string[]) =>
    stated.some(
      ({ id, value }) =>
        statements.includes(id) || of.some((zone) => value.words.toLowerCase().includes(zone)),
    );
  const typed = typedOfIt(record);
  const ofQuestions = questions
    .flatMap(({ leaves_open = [] }) => leaves_open)
    .filter(({ untried, at_each, of }) => at_each || (untried && of.some((zone) => isThere(record, zone))));
  const ofPlan = (plan.leaves_open ?? []).filter(
    ({ of }) => !of.length || of.some((zone) => isThere(record, zone)),
  );
  const open = [...ofQuestions, ...ofPlan]
    .filter(({ said_by = [] }) => !said_by.some((word) => typed.includes(word)))
    .filter((one) => isAskedOf(record, one) && isOpenAtAny(described, one))
    .filter(({ tests: of = [] }) => !of.some((test) => fieldValue(record, `tests/${test}`)))
    .filter(({ made = [] }) => !made.some((test) => isMade(record, test)))
    .filter(({ statements, of }) => !statements.length || !isStatedOf(of, statements))
    .filter((one) => !terms.some((term) => one.terms.some((other) => related(book, other, term))));
  const missing = untriedTests(described, { tests, zones });
  return [
    ...undoneSentences(described, missing, (test) => apart?.(untriedKey(test)) ?? ""),
    ...open.map(({ words, of, sealed, named = [], at_each = null }) => {
      const isShut = sealed?.zones.some((zone) => isSealed(record, zone));
      return sentence(isShut && sealed ? sealed.words : words, [], untriedKeys({ of, named, at_each }));
    }),
  ];
}

/** Every word that somebody typed beside a finding, a trial or as a statement. */
function typedOfIt(record: RecordCopy): string[] {
  const notes = [
    ...seenFindings(record).map(({ value }) => value.note),
    ...listed(record, "tests/").map(({ value }) => value.note),
    ...listed(record, "statements/").flatMap(({ value }) => (value.withdrawn ? [] : value.words)),
  ];
  return notes.flatMap((words) => wordsIn(words ?? ""));
}

/** Whether on any zone something was found at which another thing is looked for, and nobody said that he did. */
export function isOpenAtAny({ plan, book, record }: Described, { at_each }: LeavesOpen) {
  if (!at_each) return true;
  const denied = listed(record, "denials/").filter(({ value }) => !value.withdrawn);
  const isLookedFor = ({ value }: { value: { zone: string; term: string } }, zone: string) =>
    touch(plan, value.zone, zone) && at_each.looked_for.some((term) => related(book, value.term, term));
  return seenFindings(record).some(
    ({ value: { term, zone } }) =>
      at_each.found.includes(term) &&
      ![...denied, ...seenFindings(record)].some((one) => isLookedFor(one, zone)),
  );
}

/** Whether a trial was made, whatever came of it: that nobody made it decides nothing. */
export function isMade(record: RecordCopy, test: string) {
  return (fieldValue(record, `tests/${test}`)?.result ?? "not-done") !== "not-done";
}

export function isSealed(record: RecordCopy, zone: string) {
  return fieldValue(record, `zones/${zone}`)?.reason === "sealed";
}

/** What it speaks of that was not tried: its zones, what was not looked for there, or what a thing called so has. */
export function untriedKeys({ of, named = [], at_each }: Pick<LeavesOpen, "of" | "named" | "at_each">) {
  const called = [...(at_each?.looked_for ?? []), ...named].slice(0, 1);
  const about = of.length ? of : called.map((name) => name.replaceAll(" ", "-"));
  return about.map(untriedKey);
}

export function untriedKey(name: string) {
  return `untried/${name}`;
}

/**
 * Tests and lights that are asked for and of which nobody said anything, neither tried nor not: without this, "nothing
 * to report: the movement" reads as "it runs". One that takes a size is missed with the size.
 */
export function notTried(described: Described, question: Question): Sentence[] {
  const { apart } = described;
  return undoneSentences(
    described,
    untriedTests(described, question),
    (test) => apart?.(untriedKey(test)) ?? "",
  );
}

function untriedTests(
  described: Described,
  { tests, zones }: Pick<Question, "tests" | "zones">,
): FunctionTest[] {
  const { plan, record } = described;
  const lit = lightsOnRecord(record);
  const missing = plan.tests.filter(
    (test) =>
      tests.includes(test.test) &&
      !fieldValue(record, `tests/${test.test}`) &&
      !test.measures.length &&
      !isOfOtherKind(record, test) &&
      !hasNoWay(plan, test, record) &&
      !isOnNothing(described, test) &&
      !isToldOtherwise(described, test) &&
      !isFoundByTrying(described, test) &&
      !plan.zones.some((zone) => isSeenUntried(record, zone, test.test)) &&
      !isSaidUnseen(record, zones, test) &&
      !test.shows?.some((zone) => isThere(record, zone)) &&
      !isStated(described, test) &&
      !isOfNone(record, test.rules_out?.zones ?? []) &&
      ![lightOfTest(test), ...test.lights].some((light) => lit.has(light)),
  );
  const isOfAnother = (test: FunctionTest, at: number) =>
    missing.slice(0, at).some((other) => test.rules_out && isOfSame(other, test));
  return missing.filter((test, at) => !isOfAnother(test, at));
}

/** What nobody did, shortly: "running, strike and pendulum not tested" and "not wound". */
function undoneSentences(
  described: Described,
  tests: FunctionTest[],
  apart = (_test: string) => "",
): Sentence[] {
  const undone = tests.map((test) => ({ ...test, words: undoneWords(described, test) }));
  // "Whether the eyes open was not tried" is a sentence of its own, and no name in a list.
  const doneOf = (words: string) => {
    if (words.startsWith(UNLIT)) return UNLIT;
    return (words.startsWith("whether ") ? null : /(?<=\S )not \S+$/.exec(words)?.[0]) ?? words;
  };
  const groups = groupedBy(undone, ({ words, test }) => `${doneOf(words)} ${apart(test)}`);
  return [...groups.values()].map((some) => {
    const done = doneOf(some[0]?.words ?? "");
    if (done === UNLIT && some.length > 1) {
      const lights = some.map(({ words }) => words.slice(UNLIT.length));
      const keys = some.map(({ test }) => untriedKey(test));
      return sentence(UNLIT + listInWords(lights, "or"), [], keys);
    }
    const names = some.flatMap(({ words }) => words.slice(0, -done.length - 1).split(" and "));
    return sentence(
      some.length > 1 ? `${listInWords(names)} ${done}` : (some[0]?.words ?? ""),
      [],
      some.map(({ test }) => untriedKey(test)),
    );
  });
}

/** Whether two trials tell of the same faults, so that whoever misses one of them misses the other. */
function isOfSame(test: FunctionTest, other: FunctionTest) {
  return JSON.stringify(test.rules_out) === JSON.stringify(other.rules_out);
}

/**
 * Whether a finding says that it was tried, or another trial of the same tells more: one that comes behind it, or that
 * did not fail. Of what was not going when it came, one still asks whether it ran when it was wound.
 */
function isToldOtherwise(described: Described, test: FunctionTest) {
  const { tests } = described.plan;
  const isMoreTold = (other: FunctionTest) => {
    const result = fieldValue(described.record, `tests/${other.test}`)?.result ?? "not-done";
    return result !== "not-done" && (result !== "no-response" || tests.indexOf(other) > tests.indexOf(test));
  };
  const others = test.rules_out ? tests.filter((other) => other !== test && isOfSame(other, test)) : [];
  const isStopped = seenFindings(described.record).some(
    ({ value }) => value.term === STOPS && test.rules_out?.terms.includes(STOPS),
  );
  return isStopped || isToldByFinding(described, test) || others.some(isMoreTold);
}

/** Whether the answer names all that a look would have shown as not examined, and why. */
function isSaidUnseen(record: RecordCopy, zones: string[], { shows = [] }: FunctionTest) {
  const isUnseen = (zone: string) => fieldValue(record, `zones/${zone}`)?.state === "not-examined";
  return shows.length > 0 && shows.every((zone) => zones.includes(zone) && isUnseen(zone));
}

/** Whether a statement that stands says what became of a test, such as "not collated". */
function isStated(described: Described, { test }: FunctionTest) {
  const stated = statementSentences(described).flatMap(({ from }) => from);
  const { negatives } = described.plan;
  return negatives.some(
    ({ negative, tests }) => tests.includes(test) && stated.includes(`statements/${negative}`),
  );
}

export function lightsOnRecord(record: RecordCopy) {
  const denied = listed(record, "denials/").filter(({ value }) => !value.withdrawn);
  return new Set([...lightsSeenWith(record), ...denied.map(({ value }) => value.light)]);
}

/** Whether all of these zones, if any are named, are none of the thing's. */
export function isOfNone(record: RecordCopy, zones: string[]) {
  const isNever = (zone: string) => fieldValue(record, `zones/${zone}`)?.reason === "not-applicable";
  return zones.length > 0 && zones.every(isNever);
}

/**
 * Whether every zone that is asked about, the whole aside, is none of this thing's, or missing. That it has none of
 * what is judged, such as plating, is no fact of the thing but an opinion.
 */
export function isNotThere(described: Described, question: Question) {
  const isJudged = (key: string) => question.judged?.includes(zoneOf(key));
  const keys = keysAsked(described, question).filter((key) => key !== WHOLE && !isJudged(key));
  const { record } = described;
  const isNone = (key: string) =>
    fieldValue(record, `zones/${key}`)?.reason === "not-applicable" || isMissing(described, key);
  return keys.length > 0 && keys.every(isNone);
}

export function keysAsked({ plan }: Described, question: Question) {
  return plan.zones.filter(({ zone }) => question.zones.includes(zone)).flatMap(keysOf);
}
