/**
 * The facts and sizes that a question asks for: what is on the record, and what nobody put there.
 *
 * Without the second, "nothing to report: the label" reads as "the label is to be believed".
 */

import { listInWords } from "./english.ts";
import { type Described, isGone, isMissing, related, seenFindings } from "./families.ts";
import { lightOfTest, lightsSeenWith } from "./lights.ts";
import { dateWords, makerWords } from "./lot.ts";
import { markSentences } from "./marks.ts";
import { overall, statementSentences } from "./paragraph.ts";
import { type Sentence, sentence, withoutStop } from "./sentences.ts";
import { nameOn, sizeSentences } from "./sizes.ts";
import { isOnNothing, isToldByFinding } from "./trials.ts";
import type { FunctionTest, Measure, Question, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";
import { spaced } from "./words.ts";

/** Date, maker and materials stand in the sentence of the description that says what it is: the desk writes of all. */
const WHAT = ["what"];
export const PAPERS = ["papers", "documents"];

type Fact = { sentences: (described: Described) => Sentence[]; missing?: string };

const FACTS: Record<string, Fact> = {
  materials: { sentences: materials, missing: "materials" },
  dates: {
    sentences: ({ book, record }) =>
      dateWords(book, record).map(({ words, from }) => sentence(`date: ${words}`, from, WHAT)),
    missing: "date",
  },
  maker: { sentences: maker, missing: "maker" },
  marks: {
    sentences: ({ plan, book, record, apart }) => markSentences(plan, book, record, apart),
    missing: "wording of marks",
  },
  imprint: { sentences: ({ plan, book, record, apart }) => markSentences(plan, book, record, apart) },
  grade: {
    sentences: (described) => (fieldValue(described.record, "class_grade") ? overall(described) : []),
    missing: "grade",
  },
  papers: { sentences: papers, missing: "papers" },
  statements: { sentences: statementSentences },
};

/** What the record says of the facts and sizes that are asked for. */
export function askedFacts(described: Described, question: Question): Sentence[] {
  const { measures, facts, statements, if_there } = question;
  const { plan, book, record } = described;
  const asked = statements.map((statement) => `statements/${statement}`);
  return [
    ...saidByName(described, question),
    ...sizeSentences(plan, book, record, { measures, apart: described.apart }),
    ...facts.flatMap((fact) => FACTS[fact]?.sentences(described) ?? []),
    ...(if_there && isThere(record, if_there.zone)
      ? [sentence(if_there.words, [`zones/${if_there.zone}`], [`there/${if_there.zone}`])]
      : []),
    ...statementSentences(described).filter(({ from }) => from.some((field) => asked.includes(field))),
  ];
}

/** What it is called, where that says something of what is asked: "stick barometer, mercury". */
function saidByName({ record }: Described, { in_name = [] }: Question): Sentence[] {
  const name = withoutStop(fieldValue(record, "short_description") ?? "");
  const words = name.toLowerCase().split(/[^\p{L}]+/u);
  if (!in_name.some((word) => words.includes(word))) return [];
  return [sentence(`described as “${name}”`, ["short_description"], WHAT)];
}

/**
 * What is asked for and not on the record, in one sentence. Of several sizes one will do: no thing has them all.
 * `isSaid`: that marks were not copied is said already.
 */
export function notOnRecord(
  described: Described,
  { measures, facts, zones }: Question,
  isSaid = false,
): Sentence[] {
  const { plan, book, record } = described;
  const isWithout = isOfNone(
    record,
    zones.filter((zone) => PAPERS.includes(zone)),
  );
  const isOfIt = ({ of = [] }: Measure) => !isOfNone(record, of);
  const isMeasured = sizeSentences(plan, book, record, { measures }).length > 0;
  const missing = [
    ...plan.measures
      .filter(
        (measure) =>
          !isMeasured && measure.unit !== "n" && measures.includes(measure.measure) && isOfIt(measure),
      )
      .map((measure) => nameOn(measure, record)),
    ...facts.flatMap((fact) => {
      if (fact === "marks" && isSaid) return []; // the answer names the zone that they are on
      if (fact === "papers" && (isWithout || isMissingPapers(record))) return []; // the answer names that zone
      const { sentences, missing } = FACTS[fact] ?? {};
      return missing && !sentences?.(described).length ? [missing] : [];
    }),
  ];
  return missing.length ? [sentence(`not on record: ${ofOneThing(missing)}`, [])] : [];
}

/** "length, width and depth of the main stone; papers": what is of one thing names it once. */
function ofOneThing(names: string[]) {
  const groups = [...groupedBy(names, (name) => / of the .*$/.exec(name)?.[0] ?? "")];
  const isJoined = groups.some(([of, some]) => of && some.length > 1);
  if (!isJoined) return listInWords(names);
  const words = groups.map(([of, some]) => listInWords(some.map((name) => name.replace(of, ""))) + of);
  return words.join("; ");
}

/**
 * Tests and lights that are asked for and of which nobody said anything, neither tried nor not: without this, "nothing
 * to report: the movement" reads as "it runs". One that takes a size is missed with the size.
 */
export function notTried(described: Described, { tests, zones }: Question): Sentence[] {
  const { plan, record } = described;
  const lit = lightsOnRecord(record);
  const missing = plan.tests.filter(
    (test) =>
      tests.includes(test.test) &&
      !fieldValue(record, `tests/${test.test}`) &&
      !test.measures.length &&
      !isOnNothing(described, test) &&
      !isToldOtherwise(described, test) &&
      !isSaidUnseen(record, zones, test) &&
      !test.shows?.some((zone) => isThere(record, zone)) &&
      !isStated(described, test) &&
      !isOfNone(record, test.rules_out?.zones ?? []) &&
      ![lightOfTest(test), ...test.lights].some((light) => lit.has(light)),
  );
  const isOfAnother = (test: FunctionTest, at: number) =>
    missing.slice(0, at).some((other) => test.rules_out && isOfSame(other, test));
  return undoneInWords(missing.filter((test, at) => !isOfAnother(test, at))).map((words) =>
    sentence(words, []),
  );
}

/** What nobody did, shortly: "running, strike and pendulum not tested" and "not wound". */
function undoneInWords(tests: FunctionTest[]) {
  const undone = tests.map(({ name, test, undone }) => undone ?? `${name ?? spaced(test)} not tried`);
  const groups = groupedBy(undone, (words) => /(?<=\S )not \S+$/.exec(words)?.[0] ?? words);
  return [...groups].map(([done, some]) =>
    some.length > 1
      ? `${listInWords(some.flatMap((words) => words.slice(0, -done.length - 1).split(" and ")))} ${done}`
      : some.join(),
  );
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
  return isToldByFinding(described, test) || others.some(isMoreTold);
}

/** What stays open of a question, since nothing that the answer says of it, or that was looked at with, decides it. */
export function leftOpen(
  described: Described,
  { leaves_open = [] }: Question,
  known: Sentence[],
): Sentence[] {
  const { book, record } = described;
  const said = known.flatMap(({ from }) => from);
  const terms = said.flatMap((field) => {
    const value = record.fields[field]?.value as { term?: string } | undefined;
    return value?.term ?? [];
  });
  const lit = lightsOnRecord(record);
  const isByName = said.includes("short_description");
  return leaves_open
    .filter(({ of }) => !of.length || of.some((zone) => !isGone(described, zone)))
    .filter(
      (open) =>
        !open.statements.some((statement) => said.includes(`statements/${statement}`)) &&
        !open.lights.some((light) => lit.has(light)) &&
        !open.tests?.some((test) => said.includes(`tests/${test}`)) &&
        !open.facts?.some((fact) => isByName || FACTS[fact]?.sentences(described).length) &&
        !open.terms.some((term) => terms.some((other) => related(book, term, other))),
    )
    .map(({ words }) => sentence(words, []));
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

function lightsOnRecord(record: RecordCopy) {
  const denied = listed(record, "denials/").filter(({ value }) => !value.withdrawn);
  return new Set([...lightsSeenWith(record), ...denied.map(({ value }) => value.light)]);
}

/** Whether all of these zones, if any are named, are none of the thing's. */
function isOfNone(record: RecordCopy, zones: string[]) {
  const isNever = (zone: string) => fieldValue(record, `zones/${zone}`)?.reason === "not-applicable";
  return zones.length > 0 && zones.every(isNever);
}

function materials({ record }: Described): Sentence[] {
  const words = fieldValue(record, "materials")?.trim();
  return words ? [sentence(`materials as seen: ${withoutStop(words)}`, ["materials"], WHAT)] : [];
}

function maker({ book, record }: Described): Sentence[] {
  if (fieldValue(record, "maker_certainty") === "unknown")
    return [sentence("maker not determined", ["maker_certainty"])];
  return makerWords(book, record).map(({ words, from }) => sentence(words, from, WHAT));
}

/** Papers that speak for the maker or the date, and those that were examined as a zone of the thing. */
function papers({ record }: Described): Sentence[] {
  const zones = PAPERS.filter((zone) => isThere(record, zone)).map((zone) => `zones/${zone}` as const);
  const evidence = (["maker_evidence", "dates_evidence"] as const).filter((field) =>
    fieldValue(record, field)?.includes("provenance-paper"),
  );
  // That two are missing says nothing of whether any is left: only those that were counted do.
  const isInPart = isMissingPapers(record);
  const counted = zones.filter((field) => fieldValue(record, field)?.count);
  const fields = [...evidence, ...(isInPart ? counted : zones)];
  return fields.length ? [sentence(`there are ${isInPart ? "other " : ""}papers with it`, fields)] : [];
}

function isMissingPapers(record: RecordCopy) {
  return seenFindings(record).some(
    ({ value }) => value.term === "missing-part" && PAPERS.includes(value.zone),
  );
}

/** Whether a zone was examined and is not missing. */
function isThere(record: RecordCopy, zone: string) {
  const state = fieldValue(record, `zones/${zone}`)?.state;
  return state === "clear" || (state === "finding" && !isMissing(record, zone));
}
