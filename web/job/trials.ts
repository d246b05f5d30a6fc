/** What was tried and what came of it, and what was not tried and why. */

import { bothWays } from "./both_ways.ts";
import { hasOneEach } from "./called.ts";
import { verbOfThem } from "./english.ts";
import { type Described, saysOf, seenFindings, termOf, touch, WHOLE } from "./families.ts";
import type { TestValue } from "./fields.ts";
import { isGone } from "./gone.ts";
import { reasonInWords } from "./in_lists.ts";
import { howWords, lightOf, lightOfTest, lightsSeenWith } from "./lights.ts";
import { linesListed } from "./listed_pieces.ts";
import { countAlike } from "./piece_open.ts";
import { arePiecesZones } from "./piece_zones.ts";
import { zoneOf } from "./places.ts";
import { isTest } from "./progress.ts";
import { behindColon, type Sentence, sentence, withoutStop } from "./sentences.ts";
import { isSeenUntried, isSweptUnshown, isUnseenAfterAll } from "./sight.ts";
import { isNothingSeen } from "./test_results.ts";
import { isKnownToHave, isThere } from "./there.ts";
import { isOfThem } from "./typed_names.ts";
import type { FunctionTest, Plan, RecordCopy, RulesOut } from "./types.ts";
import { fieldValue, isContested, listed } from "./values.ts";
import { isOnSomePieces, piecesInWords, piecesOf } from "./which_piece.ts";

/** A reason that is none, where nothing was written beside it. */
const OTHER = "other";

/** What a trial that moves a part would rule out, and what nobody finds who does not move it. */
const STIFF = "stiff";
const PLAY = "play";

/** How a trial is told that moved something of a thing, whichever that was. */
const MOVED = /^it (moved|did not move)\b/;

/** `about` is the test that it tells of. */
export type TrialSentence = Sentence & {
  about: string;
  /** Of a mere look, with nothing noted of it: how, as in "under ultraviolet". */
  look?: string;
};

/** `looks` are said, too, if somebody asks for them; else they stand among what it was examined with. */
export function trialSentences(described: Described, looks: "said" | "unsaid" = "unsaid"): TrialSentence[] {
  const { plan, record } = described;
  const known = new Set(plan.tests.map(({ test }) => test));
  const others = listed(record, "tests/").filter(({ id }) => !known.has(id));
  const tests = [...plan.tests, ...others.map(({ id }) => unknownTest(id)).sort(byName)];
  const both = bothWays(described);
  return tests.flatMap((test) => {
    const made = fieldValue(record, `tests/${test.test}`);
    const isContradicted =
      made?.result === "not-done" && (wasMadeAfterAll(described, test) || isToldUnseen(described, test));
    const words = made && !isContradicted && trialInWords(described, test, made, looks);
    if (!words) return [];
    const statements = plan.negatives.filter(({ tests }) => tests.includes(test.test));
    const stated = statements
      .map(({ negative }) => `statements/${negative}`)
      .filter((field) => record.fields[field]);
    const field = `tests/${test.test}`;
    const isLook = test.looks && made.result === "works" && !behindColon(made.note);
    const look = isLook ? { look: howWords(lightOf(described.book, lightOfTest(test))) } : {};
    const said = { ...sentence(words, [field, ...stated], [field]), about: test.test, ...look };
    const against = both.find((row) => row.test.test === test.test);
    if (!against || isContested(record, field)) return [said]; // it is told as not settled already
    const from = [field, ...against.said.map(({ id }) => `denials/${id}`)];
    const unsettled = "it is recorded as well that this was done; which of the two is right is not settled";
    return [said, { ...sentence(unsettled, from, [`both/${test.test}`]), about: test.test }];
  });
}

/** What was seen with a light, or of a zone, or measured, outweighs that nobody looked so or took the measure. */
export function wasMadeAfterAll(described: Described, test: FunctionTest) {
  const { plan, record } = described;
  const isSeen = (zone: string) => {
    const state = fieldValue(record, `zones/${zone}`)?.state;
    const isUnseen = plan.zones.some((row) => row.zone === zone && isUnseenAfterAll(record, row, zone));
    const isShut = isSweptUnshown(plan, record, zone);
    return !isUnseen && !isShut && (state === "clear" || state === "finding");
  };
  return (
    lightsSeenWith(record).has(lightOfTest(test)) ||
    Boolean(test.shows?.some(isSeen)) ||
    plan.zones.some((zone) => isSeenUntried(record, zone, test.test)) ||
    isMeasured(described, test) ||
    isFoundByTrying(described, test)
  );
}

/** Whether all that a look would have shown is said not to be examined, for the same reason: nobody reads it twice. */
function isToldUnseen({ record }: Described, { test, shows = [] }: FunctionTest) {
  const made = fieldValue(record, `tests/${test}`);
  if (!shows.length || made?.note?.trim()) return false;
  return shows.every((zone) => {
    const { state, reason } = fieldValue(record, `zones/${zone}`) ?? {};
    return state === "not-examined" && reason === made?.why;
  });
}

/** Whether a finding on the zone that a trial moves could only be made by moving it: play in the focus. */
export function isFoundByTrying({ record }: Described, { of = [], rules_out }: FunctionTest) {
  if (!rules_out?.terms.includes(STIFF)) return false;
  return seenFindings(record).some(
    ({ value }) => value.term === PLAY && value.severity > 0 && of.includes(zoneOf(value.zone)),
  );
}

/** Whether what it was tried on is none of the thing's, or gone: nothing can have come of it. */
export function isOnNothing(described: Described, { of = [] }: FunctionTest) {
  return of.length > 0 && of.every((zone) => isGone(described, zone));
}

function hasFailed(described: Described, test: FunctionTest) {
  const result = fieldValue(described.record, `tests/${test.test}`)?.result;
  return (result === "works-in-part" || result === "no-response") && !isOnNothing(described, test);
}

/** The trials that failed, also in part, looks among them; none that measured. */
export function failedTrials(described: Described): FunctionTest[] {
  return described.plan.tests.filter((test) => !test.measures.length && hasFailed(described, test));
}

/** The zones that were tried: those that it is of or shows, else those of whose faults it tells. */
export function zonesTried({ of = [], shows, rules_out }: FunctionTest): string[] {
  if (of.length) return of;
  return shows?.length ? shows : (rules_out?.zones ?? []);
}

/**
 * Whether what failed leaves a zone open: it was tried, or a fault of it would have been told. What tells of faults and
 * of no zone is of all; that a movement which stands still may be a fault of the whole is no matter of its case.
 */
export function isLeftOpenBy(plan: Plan, test: FunctionTest, zone: string) {
  const { of = [], shows, rules_out } = test;
  const zones = [...of, ...(shows ?? []), ...(rules_out?.zones ?? [])];
  const parts = zones.filter((tried) => tried !== WHOLE);
  if (!zones.length) return Boolean(rules_out?.terms.length);
  return (parts.length ? parts : zones).some((tried) => touch(plan, tried, zone));
}

/** Whether a test tells of no zone by name: what came of it is said of all that it is asked for. */
export function isOfNoZone(test: FunctionTest) {
  return zonesTried(test).length === 0;
}

/** Whether a test that failed, also in part, speaks against "no such fault was found there". */
export function isFaultByTrial(described: Described, zone: string, term: string) {
  const { plan } = described;
  return plan.tests.some((test) => {
    const { zones = [], terms = [] } = test.rules_out ?? {};
    return (
      hasFailed(described, test) &&
      terms.includes(term) &&
      (!zones.length || zones.some((tried) => touch(plan, tried, zone)))
    );
  });
}

/** The lights of what was only a look: they stand among what it was examined with. */
export function looksMade({ plan, record }: Described): { light: string; field: string }[] {
  return plan.tests.flatMap(({ test, looks }) =>
    looks && fieldValue(record, `tests/${test}`)?.result === "works"
      ? [{ light: looks, field: `tests/${test}` }]
      : [],
  );
}

/** Whether a note is the very word that a finding says of what was tried: "stiff" of a stiff focus. */
function isToldByTerm({ book, record }: Described, test: FunctionTest, note: string | null | undefined) {
  const word = withoutStop(note ?? "").toLowerCase();
  return seenFindings(record).some(
    ({ value }) =>
      (test.of ?? []).includes(zoneOf(value.zone)) &&
      word !== "" &&
      saysOf(termOf(book, value.term), value.zone) === word,
  );
}

/** What came of a test, in print; "" where nothing is to be said of it. */
export function trialInWords(
  described: Described,
  test: FunctionTest,
  { result, why, note }: TestValue,
  looks: "said" | "unsaid",
): string {
  const { book } = described;
  const name = test.name ?? test.test.replaceAll("-", " ");
  // What somebody typed of what a light showed has no subject of its own.
  const noted = test.looks ? behindColon(note).replace(":", "; noted:") : behindColon(note);
  const looked = test.looks ? `it was looked at ${howWords(lightOf(book, test.looks))}` : "";
  // A row that forbids is no trial: of one that a record has all the same, only its note says anything.
  if (!isTest(test) && !test.name && !test.undone) return withoutStop(note);
  if (isOnNothing(described, test)) return noted && `${name}${noted}`;
  const moved = partMoved(described, test, result, note);
  if (moved) return moved;
  switch (result) {
    case "works":
      // Where what it found stands as a size, that something was weighed says nothing more.
      if (isMeasured(described, test) && !noted) return "";
      if (test.measures.length && looks === "said" && !noted) return "";
      if (isSeenOtherwise(described, test) && !noted) return "";
      if (isToldByFinding(described, test) && !noted) return "";
      if (isHoldTold(described, test) && !noted) return "";
      // What a look for faults showed beside those is told by its light; a watermark is what it was looked for.
      if (test.looks && looks === "unsaid" && !(noted && test.said && !test.seeks?.length))
        return noted && `noted ${howWords(lightOf(book, test.looks))}${behindColon(note)}`;
      return (
        (isRuledOut(described, test)
          ? (ofOthers(described, test) ?? triedWords(test))
          : (saidBeside(described, test) ?? test.said ?? `${name} worked when tried`)) +
        (noted ||
          unreadWords(test, isNothingSeen({ result, why })) ||
          ofWhichPiece(described, test) ||
          ofWhichOfList(described, test))
      );
    case "works-in-part":
      return (
        (ofSome(described, test.in_part) ??
          (looked ? `${looked} only in part` : `${name} was done only in part`)) +
        (isToldByTerm(described, test, note) ? "" : noted)
      );
    case "no-response":
      if ((isToldByFinding(described, test) || isFailureTold(described, test)) && !noted) return "";
      // What is looked at, or measured, does not respond.
      return (test.failed ?? (looked ? `${looked}, without result` : `${name} came to nothing`)) + noted;
    default:
      // What is not there was not left out: "numbers on stopper and neck: no numbers seen on either".
      if (/^(?:no|none) .*\b(?:seen|found|there)\b/i.test(why ?? ""))
        return noneToRead(undoneWords(described, test), why ?? "") + behindColon(note).replace(":", ";");
      if (!why?.trim() || why === OTHER) return undoneWords(described, test) + behindColon(note);
      return `${undoneWords(described, test)}: ${reasonInWords(book, why)}${behindColon(note).replace(":", ";")}`;
  }
}

/** Whether it is told of what was tried that it held: "the catch of the brooch pin held when tried once by hand". */
function isHoldTold({ book, record }: Described, { of = [], rules_out }: FunctionTest) {
  return listed(record, "denials/").some(
    ({ value: { zone, term, withdrawn } }) =>
      !withdrawn && of.includes(zoneOf(zone)) && rules_out?.terms.includes(term) && termOf(book, term)?.held,
  );
}

/** "The lid moved a little when tried": what a note names of a thing is what moved. */
function partMoved({ book }: Described, test: FunctionTest, result: string, note: string | null | undefined) {
  const said = { works: test.said, "works-in-part": test.in_part, "no-response": test.failed }[result];
  const words = withoutStop(note ?? "")
    .toLowerCase()
    .replace(/^(?:the|its) /, "");
  const isThing = book.print.english.common?.includes(words) && !/(?:ed|ing)$/.test(words);
  return isThing && said && MOVED.test(said) ? said.replace(MOVED, `the ${words} $1`) : null;
}

/** What came of a test in part: of several things it may be so of one alone. */
function ofSome(described: Described, in_part: string | null | undefined) {
  const { record } = described;
  const [all, [, verb = "", rest = ""]] = [countAlike(record), /^it (\w+)(.*)$/.exec(in_part ?? "") ?? []];
  if (all < 2 || !verb || arePiecesZones(described)) return in_part;
  return `one or ${all === 2 ? "both" : "more"} ${verbOfThem(verb)}${rest}`;
}

function noneToRead(undone: string, why: string) {
  return `${undone.replace(/ not \S+$/, "")}: ${withoutStop(why)}`;
}

/** Of a thing that is known to have what a test looks for, that others were looked for. */
function saidBeside({ record }: Described, { said_beside: beside }: FunctionTest) {
  return beside && isThere(record, beside.zone) && isKnownToHave(record, beside.zone, beside.named ?? [])
    ? beside.words
    : null;
}

/** That a test was made, whatever came of it. */
export function triedWords({ tried, name, test }: FunctionTest) {
  return tried ?? `${name ?? test.replaceAll("-", " ")} was tried`;
}

/** What a test that worked says of the other pieces of a pair or a set, where it cannot be so of some; else null. */
function ofOthers({ record }: Described, { said, rules_out }: FunctionTest): string | null {
  const found = rules_out ? ruling(record, rules_out).map(({ value }) => value) : [];
  if (!said || !found.every((value) => isOnSomePieces(record, value))) return null;
  const all = piecesOf(record);
  const against = new Set(found.map(({ piece }) => piece ?? "")).size;
  const count = found.some(({ piece_count }) => piece_count)
    ? all - Math.max(...found.map(({ piece_count }) => piece_count ?? 1))
    : all - against;
  if (count < 1) return null;
  const [, verb, rest] = /^it (\w+)(.*)$/.exec(said) ?? [];
  // Where a side is told of another fault, "the other one" would be that of the other side.
  const isUntold = found.every(({ piece, piece_words }) => !piece && !piece_words);
  const isSideTold = seenFindings(record).some(({ value }) => value.piece && isOnSomePieces(record, value));
  if (all === 2 && isUntold && isSideTold)
    return verb ? `one of the two ${verb}${rest}` : `on one of the two, ${said}`;
  const other = count === 1 ? "the other" : "the others";
  if (!verb) return `on ${other}, ${said}`;
  return `${count === 1 ? `${other} one ${verb}` : `${other} ${verbOfThem(verb)}`}${rest}`;
}

/** That what a tester read was not noted, behind what was tried; or that a look for one thing showed none. */
function unreadWords({ unread }: FunctionTest, isNothing: boolean) {
  if (!unread) return "";
  return isNothing ? "; none seen" : `; ${unread}`;
}

/** Of several things, that nobody noted whether each was tried. */
function ofWhichPiece({ record }: Described, { of_one }: FunctionTest) {
  const all = countAlike(record);
  if (!of_one || all < 2) return "";
  return `; whether one or ${all === 2 ? "both" : `all ${piecesInWords(record, all)}`} were tried was not noted`;
}

/** Of unlike pieces, on which of them something was tried: a hinge may be that of one alone. */
function ofWhichOfList({ record }: Described, { of = [], looks }: FunctionTest) {
  const all = countAlike(record);
  if (all < 2 || looks || !of.length || !linesListed(record).length) return "";
  return `; on which of the ${piecesInWords(record, all)} was not noted`;
}

/** "motor not run": what is said of a test that nobody made, of several things "catches not tried". */
export function undoneWords({ book, record }: Described, test: FunctionTest) {
  const isThem = isOfThem(fieldValue(record, "short_description") ?? "", book.print.english);
  const isOfSeveral = isThem || hasOneEach(book, record);
  return (isOfSeveral && test.undone_of_several) || undoneOfOne(test);
}

export function undoneOfOne({ undone, name, test }: FunctionTest) {
  return undone ?? `${name ?? test.replaceAll("-", " ")} not tried`;
}

/** Whether a finding does not go together with what would be said of a test that worked. */
export function isRuledOut({ record }: Described, { rules_out }: FunctionTest) {
  return rules_out !== null && ruling(record, rules_out).length > 0;
}

function ruling(record: RecordCopy, { zones, terms }: RulesOut) {
  return seenFindings(record).filter(
    ({ value }) => terms.includes(value.term) && (!zones.length || zones.includes(zoneOf(value.zone))),
  );
}

/** Whether a finding that it rules out, and that is printed, says by itself that it was tried and failed. */
export function isToldByFinding({ book, record }: Described, { rules_out }: FunctionTest) {
  const found = rules_out ? ruling(record, rules_out) : [];
  return found.some(({ value }) => value.severity > 0 && termOf(book, value.term)?.sense === "trial");
}

/** Whether a finding that is printed is the very failure: the sound-post that is down is detached. */
function isFailureTold({ record }: Described, { rules_out, told_by = [] }: FunctionTest) {
  const found = rules_out ? ruling(record, rules_out) : [];
  return found.some(({ value }) => value.severity > 0 && told_by.includes(value.term));
}

function isMeasured({ record }: Described, { measures }: FunctionTest) {
  return measures.some((measure) => fieldValue(record, `measures/${measure}`)?.value);
}

/** Whether a light that is named with what it showed is all that would be said of a look. */
function isSeenOtherwise(described: Described, test: FunctionTest) {
  return isRuledOut(described, test) && lightsSeenWith(described.record).has(lightOfTest(test));
}

/** A test that the plan of the record has not got. */
function unknownTest(test: string): FunctionTest {
  const unsaid = { said: null, name: null, undone: null, failed: null, in_part: null, tried: null };
  return {
    ...unsaid,
    test,
    how: "",
    never_when: "",
    rules_out: null,
    looks: null,
    measures: [],
    lights: [],
    stopped_by: [],
  };
}

function byName(a: FunctionTest, b: FunctionTest) {
  return a.test.localeCompare(b.test);
}
