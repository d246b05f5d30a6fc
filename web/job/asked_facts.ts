/**
 * The facts and sizes that a question asks for: what is on the record, and what nobody put there.
 *
 * Without the second, "nothing to report: the label" reads as "the label is to be believed".
 */

import { isAskedOf } from "./called.ts";
import { standingCautions } from "./cautions.ts";
import { listInWords, numberOf } from "./english.ts";
import { type Described, related, seenFindings } from "./families.ts";
import { isGone, isMissing, isNone, MISSING } from "./gone.ts";
import { isInPartAlone, theRest } from "./in_part.ts";
import { itOrThem } from "./looked.ts";
import { dateWords, makersUnsettled, makerWords } from "./lot.ts";
import { isAnyMark, markSentences } from "./marks.ts";
import { faultsInName } from "./named_faults.ts";
import { isMissingPapers, isWithPapers, PAPERS, papers } from "./papers.ts";
import { overall } from "./paragraph.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, sentence, withoutStop } from "./sentences.ts";
import { nameOn, sizeSentences } from "./sizes.ts";
import { statementSentences } from "./statements.ts";
import {
  isCalled,
  isClearedAlone,
  isInName,
  isKnownToHave,
  isNamedIn,
  isSeen,
  isThere,
  wordsIn,
} from "./there.ts";
import { isNumberOnOne, numberOnZone } from "./tied_parts.ts";
import { wasMadeAfterAll } from "./trials.ts";
import type { LeavesOpen, Measure, Question, RecordCopy } from "./types.ts";
import { isExamined } from "./uncopied.ts";
import { isMade, isOfNone, isOpenAtAny, isSealed, lightsOnRecord, untriedKeys } from "./untried.ts";
import { fieldValue, groupedBy, isContested, listed } from "./values.ts";
import { piecesOf } from "./which_piece.ts";
import { worded } from "./worded.ts";

/** Date, maker and materials stand in the sentence of the description that says what it is: the desk writes of all. */
const WHAT = ["what"];
const MAKER = "maker";
const MATERIALS = "materials";
const PAPERS_OF_IT = "papers";
const MARKS = "marks";
const GRADE = "grade";
/** What becomes of a title leaf that is not there. */
const LEAF_MISSING = "leaf-missing";
const LOSSES = ["loss", MISSING];
const SERIOUS = 3;
const EVIDENCE = "evidence";
const MARK_MEANING = "mark-meaning";
/** What only the owner says speaks for nothing in print. */
const HEARSAY = "owner-told";
/** Held for the maker's own, or not relied on: that is what is thought of a mark. */
const JUDGED = ["makers-own", "not-relied-on"];
/** What is said where nobody noted it, of what is neither a size nor stated of a thing. */
const NOT_NOTED: Record<string, string> = {
  [MARKS]: "no marks were copied",
  [GRADE]: "no grade was given",
  [EVIDENCE]: "what speaks for or against the mark was not noted",
  [MARK_MEANING]: "what the mark stands for was not noted",
};

/** Words of a note that only counts. */
const COUNTING = new Set(
  "a the of out only here there present lacking missing wanting lost set volume volumes vol vols".split(" "),
);

type Fact = { sentences: (described: Described) => Sentence[]; missing?: string };

const FACTS: Record<string, Fact> = {
  materials: { sentences: materials, missing: MATERIALS },
  dates: {
    sentences: ({ book, record }) =>
      dateWords(book, record).map(({ words, from }) =>
        sentence(/^dated\b/.test(words) ? `it is ${words}` : `the date is ${words}`, from, WHAT),
      ),
    missing: "date",
  },
  maker: { sentences: maker, missing: MAKER },
  marks: {
    sentences: ({ plan, book, record, apart }) => markSentences(plan, book, record, apart),
    missing: MARKS,
  },
  imprint: { sentences: ({ plan, book, record, apart }) => markSentences(plan, book, record, apart) },
  numbers: { sentences: numbers },
  grade: {
    sentences: (described) => (fieldValue(described.record, "class_grade") ? overall(described) : []),
    missing: GRADE,
  },
  papers: { sentences: papers, missing: PAPERS_OF_IT },
  statements: { sentences: statementSentences },
  evidence: { sentences: evidence, missing: EVIDENCE },
  [MARK_MEANING]: { sentences: () => [], missing: MARK_MEANING },
};

/** The record without the marks that are never what a question asks for: a dealer's label is no signature. */
function asMarked(described: Described, { marks_not = [] }: Question): Described {
  const { record } = described;
  const others = listed(record, "marks/").filter(({ value }) => marks_not.includes(value.technique ?? ""));
  if (!others.length) return described;
  // Where those were found, nobody says that there was nothing.
  const out = ["marks_looked", ...others.map(({ id }) => `marks/${id}`)];
  const fields = Object.entries(record.fields).filter(([name]) => !out.includes(name));
  return { ...described, record: { ...record, fields: Object.fromEntries(fields) } };
}

/** What the record says of the facts and sizes that are asked for. */
export function askedFacts(described: Described, question: Question): Sentence[] {
  const { measures, facts, statements, if_there } = question;
  const { plan, book, record } = described;
  const asked = statements.map((statement) => `statements/${statement}`);
  const made = madeSentences(described, facts);
  const byName = saidByName(described, question);
  const isInMade = (fact: string) => made.length > 0 && ["dates", MAKER].includes(fact);
  return [
    ...(byName.length ? byName : faultsInName(described, question)),
    ...made,
    ...sizeSentences(plan, book, record, { of: "lot", measures, apart: described.apart }),
    ...facts
      .filter((fact) => fact !== "materials" || !saysMaterials(described, question))
      .filter((fact) => !isInMade(fact))
      .flatMap(
        (fact) => FACTS[fact]?.sentences(fact === "marks" ? asMarked(described, question) : described) ?? [],
      ),
    ...(if_there ? thereSentences(described, if_there, question.judged) : []),
    ...presentSentences(described, question),
    ...statementSentences(described).filter(({ from }) => from.some((field) => asked.includes(field))),
  ];
}

/**
 * That a thing has a zone: an accessory that was examined is there. What is a state and no part, such as folds, may be
 * ticked of what never had any: there something was found, or what it is called says so (`named`).
 */
function thereSentences(
  { record }: Described,
  { zone, words, open, named = [], unless_basis = [] }: NonNullable<Question["if_there"]>,
  judged: string[] = [],
) {
  if (!isThere(record, zone)) return [];
  // Who clears a key by itself has it in hand; who clears loading so has looked for it, and found none.
  const isInHand = isClearedAlone(record, zone) && !judged.includes(zone);
  const isKnown = !open || isKnownToHave(record, zone, named) || isSaidOf(record, named) || isInHand;
  const said = isKnown ? words : isOnBasis(record, unless_basis) ? "" : open;
  return said ? [sentence(said, [`zones/${zone}`], [`there/${zone}`])] : [];
}

/** Whether it is what a size was taken of, "612 g loaded", or stands among the materials as seen: "silver, filled". */
function isSaidOf(record: RecordCopy, named: string[]) {
  const materials = wordsIn(fieldValue(record, "materials") ?? "");
  return isOnBasis(record, named) || named.some((word) => materials.includes(word));
}

function isOnBasis(record: RecordCopy, some: string[]) {
  return listed(record, "measures/").some(({ value: { basis } }) => some.includes(basis?.trim() ?? ""));
}

/** "1787, by Barnabas Quire": when and by whom, in one, where both are known and neither is in dispute. */
function madeSentences(described: Described, facts: string[]): Sentence[] {
  const { plan, book, record } = described;
  const isAsked = facts.includes("dates") && facts.includes(MAKER);
  if (!isAsked || isContested(record, "dates") || isContested(record, "maker")) return [];
  const [date, ...dates] = dateWords(book, record);
  const [by, ...makers] = makerWords(book, record);
  const who = by && /^it is (.+)$/.exec(saidOfMaker(by.words, plan.maker_noun ?? MAKER))?.[1];
  if (!date || !who || dates.length || makers.length) return [];
  return [sentence(`${date.words}, ${who}`, [...date.from, ...by.from], WHAT)];
}

/**
 * "The pendulum and the keys are present": of what nothing is missing. That it was ticked with the rest is no pledge
 * that a thing is with it, nor is what was found on one of several that all of them are: there it was counted, judged
 * or moved, its name or a number on it says so, or it was cleared by itself. How many were looked at so is open where
 * nobody counted them. Where some are missing it is asked whether the others are there.
 */
function presentSentences(described: Described, { present = [] }: Question): Sentence[] {
  const { plan, book, record } = described;
  const lackingOn = (zone: string) =>
    seenFindings(record).filter(({ value }) => value.zone === zone && value.term === MISSING);
  const isOnly = (zone: string) =>
    fieldValue(record, `zones/${zone}`)?.count === 1 || isNumberOnOne(described, zone);
  const isMany = (zone: string) => zoneNameOf(book, zone).plural && !isOnly(zone);
  const isMeasured = (zone: string) =>
    plan.measures.some(
      ({ measure, unit, of }) =>
        unit === "n" && of?.includes(zone) && fieldValue(record, `measures/${measure}`)?.value,
    );
  const isCounted = (zone: string) => Boolean(fieldValue(record, `zones/${zone}`)?.count) || isMeasured(zone);
  // Two weights are all that a longcase clock has.
  const isAll = (zone: string) => {
    const lost = lackingOn(zone).reduce((sum, { value }) => sum + (value.extent_count ?? 0), 0);
    return lost >= (present.find((one) => one.zone === zone)?.at_most ?? Infinity);
  };
  const isLeft = (zone: string) =>
    isMany(zone) &&
    !isCounted(zone) &&
    lackingOn(zone).every(({ value }) => value.extent_count) &&
    !isAll(zone);
  const there = present.filter(
    ({ zone }) =>
      (isThere(record, zone) && (!lackingOn(zone).length || isLeft(zone))) ||
      (!lackingOn(zone).length && numberOnZone(described, zone)),
  );
  const isJudged = (zone: string) => Boolean(fieldValue(record, `origins/${zone}`)?.origin);
  const isTold = (zone: string) =>
    isInName(described, zone) ||
    numberOnZone(described, zone) !== undefined ||
    isMoved(described, zone) ||
    (isMany(zone) ? isCounted(zone) || isJudged(zone) : isSeen(record, zone));
  const isKnown = (zone: string) => !lackingOn(zone).length && (isTold(zone) || isClearedAlone(record, zone));
  const openWords = (zone: string, words: string) => {
    if (lackingOn(zone).length) return `the other ${words}`;
    return isMany(zone) && isSeen(record, zone) ? `all ${words}` : `the ${words}`;
  };
  const seenOn = (zone: string) => {
    const number = isKnown(zone) ? numberOnZone(described, zone) : undefined;
    return [isThere(record, zone) ? `zones/${zone}` : [], number ? `tags/${number.tag}` : []].flat();
  };
  const known = there.filter(({ zone }) => isKnown(zone));
  const open = there.filter(({ zone }) => !isKnown(zone));
  const uncounted = known.filter(({ zone }) => isMany(zone) && !isTold(zone));
  const sentences = [
    {
      some: known,
      names: known.map(({ zone, words }) => `the ${isOnly(zone) ? zoneNameOf(book, zone).one : words}`),
      begin: "",
      end: " present",
    },
    {
      some: open,
      names: open.map(({ zone, words }) => openWords(zone, words)),
      begin: "whether ",
      end: " present was not noted",
    },
  ];
  const said = sentences.flatMap(({ some, names, begin, end }) => {
    if (!some.length) return [];
    const many = some.length > 1 || some.some(({ zone }) => isMany(zone));
    return [
      sentence(
        `${begin}${listInWords(names)} ${many ? "are" : "is"}${end}`,
        some.flatMap(({ zone }) => seenOn(zone)),
        some.map(({ zone }) => `there/${zone}`),
      ),
    ];
  });
  if (!uncounted.length) return said;
  const kinds = uncounted.flatMap(({ words }) => words.split(" and "));
  const howMany = `how many ${listInWords(kinds)} there are was not noted`;
  const of = uncounted.map(({ zone }) => `zones/${zone}`);
  // Behind what is present, before what may not be.
  said.splice(
    1,
    0,
    sentence(
      howMany,
      of,
      of.map((field) => `count/${field}`),
    ),
  );
  return said;
}

/** Whether a trial was made of a zone, whatever came of it: a pendulum that swung is there. */
function isMoved({ plan, record }: Described, zone: string) {
  return plan.tests.some(({ test, of = [], looks }) => !looks && of.includes(zone) && isMade(record, test));
}

/** What it is called, where that says something of what is asked: "stick barometer, mercury". */
function saidByName({ record }: Described, { in_name = [] }: Question): Sentence[] {
  const name = withoutStop(fieldValue(record, "short_description") ?? "");
  if (!isCalled(record, in_name) || isSeenSo(record, in_name)) return [];
  // What it is in is not what it is made of: a respirator in a tin.
  if (!wordsIn(name.replace(/ in (?:an?|its|the) .*$/i, "")).some((word) => in_name.includes(word)))
    return [];
  if (in_name.some((word) => PAPERS.includes(word)) && isWithPapers(record)) return [];
  // What was noted as a caution is told beside it.
  const alone = standingCautions(record).length ? "" : " alone";
  return [
    sentence(`said in the description${alone}: “${whereSaid(name, in_name)}”`, ["short_description"], WHAT),
  ];
}

/** The words of a name that say it: "mercury" of "stick barometer, mercury", "with bone" of "small box with bone". */
function whereSaid(name: string, in_name: string[]) {
  const clauses = name.split(/, |(?<=\S) (?=with )/);
  const said = clauses.filter((clause) => wordsIn(clause).some((word) => in_name.includes(word)));
  return said.length === 1 ? said[0] : name;
}

/** Whether what it is called, which is told, says all of what it is made of. */
function saysMaterials({ record }: Described, { in_name = [] }: Question) {
  const [name, words] = (["short_description", "materials"] as const).map((field) =>
    withoutStop(fieldValue(record, field) ?? "").toLowerCase(),
  );
  return isCalled(record, in_name) && !isSeenSo(record, in_name) && Boolean(words && name?.includes(words));
}

/** Whether the materials as seen have every word for which its name would be told. */
function isSeenSo(record: RecordCopy, in_name: string[]) {
  const seen = wordsIn(fieldValue(record, "materials") ?? "");
  const named = wordsIn(fieldValue(record, "short_description") ?? "").filter((word) =>
    in_name.includes(word),
  );
  return named.length > 0 && named.every((word) => seen.includes(word));
}

/**
 * What is asked for and not on the record: sizes, then facts. Of several sizes one will do: no thing has them all.
 * `isSaid`: that marks were not copied is said already.
 */
export function notOnRecord(
  described: Described,
  { measures, facts, zones, tests }: Question,
  isSaid = false,
): Sentence[] {
  const { plan, book, record } = described;
  const isWithout = isOfNone(
    record,
    zones.filter((zone) => PAPERS.includes(zone)),
  );
  const isOfIt = ({ of = [] }: Measure) => !isOfNone(record, of);
  const isMeasured = sizeSentences(plan, book, record, { measures }).length > 0;
  // "Not weighed: loaded base" says that no weight was taken, and why.
  const isToldUndone = ({ measure }: Measure) =>
    plan.tests.some(
      (test) =>
        tests.includes(test.test) &&
        test.measures.includes(measure) &&
        fieldValue(record, `tests/${test.test}`)?.result === "not-done" &&
        !wasMadeAfterAll(described, test),
    );
  const sizes = plan.measures
    .filter(
      (measure) =>
        !isMeasured &&
        measure.unit !== "n" &&
        measures.includes(measure.measure) &&
        isOfIt(measure) &&
        !isToldUndone(measure),
    )
    .map((measure) => ({
      name: nameOn(worded(plan, record, measure), record),
      // What was weighed has a weight, which nobody wrote down.
      isTaken: plan.tests.some(
        ({ test, measures: of }) => of.includes(measure.measure) && isMade(record, test),
      ),
    }));
  const named = (isTaken: boolean) =>
    sizes.filter((size) => size.isTaken === isTaken).map(({ name }) => name);
  const missing = facts.flatMap((fact) => {
    if (fact === "marks" && isSaid) return []; // the answer names the zone that they are on
    if (fact === "papers" && (isWithout || isMissingPapers(record))) return []; // the answer names that zone
    if (fact === EVIDENCE && !isMarkOpen(record)) return [];
    if (fact === MARK_MEANING && !isMeaningOpen(record)) return [];
    const { sentences, missing } = FACTS[fact] ?? {};
    return missing && !sentences?.(described).length ? [missing] : [];
  });
  const stated = missing
    .filter((name) => !(name in NOT_NOTED) && name !== PAPERS_OF_IT)
    .map((name) => (name === MAKER ? (plan.maker_noun ?? MAKER) : name));
  // Marks that somebody looked at are there.
  const isMarked = plan.zones.some(({ zone, wording }) => wording?.length && isThere(record, zone));
  const noted = missing.flatMap((name) => {
    if (name === MARKS && plan.marks_always) return `what stands on ${itOrThem(described)} was not copied`;
    return name === MARKS && isMarked ? "the marks were not copied" : (NOT_NOTED[name] ?? []);
  });
  return [
    ...(named(false).length ? [`${sizesInWords(named(false))} not taken`] : []),
    ...(named(true).length
      ? [`${sizesInWords(named(true))} ${named(true).length > 1 ? "were" : "was"} not noted`]
      : []),
    ...(stated.length ? [notNoted(stated)] : []),
    ...(missing.includes(PAPERS_OF_IT)
      ? [`whether there are papers with ${itOrThem(described)} was not noted`]
      : []),
    ...noted,
  ].map((words) => sentence(words, []));
}

/** "The date and the maker were not noted": nobody knows whether anybody asked. */
function notNoted(names: string[]) {
  const isMany = names.length > 1 || names.includes(MATERIALS);
  return `${listInWords(names.map((name) => `the ${name}`))} ${isMany ? "were" : "was"} not noted`;
}

/** "Length and width of the main stone, and weight": what is of one thing names it once. */
function sizesInWords(names: string[]) {
  const groups = [...groupedBy(names, (name) => / of the .*$/.exec(name)?.[0] ?? "")];
  // "Weight and length of the string" would be of the string both.
  const [first, ...others] = groups;
  if (first?.[0] === "" && first[1].length === 1 && others.length) groups.push(...groups.splice(0, 1));
  const lists = groups.map(([of, some]) => listInWords(some.map((name) => name.replace(of, ""))) + of);
  return lists.length > 1 && groups.some(([, some]) => some.length > 1)
    ? lists.join(", and ")
    : listInWords(lists);
}

/** What stays open of a question, since nothing that the answer says of it, or that was looked at with, decides it. */
export function leftOpen(
  described: Described,
  { leaves_open = [] }: Question,
  known: Sentence[],
): Sentence[] {
  const { book, record, apart } = described;
  const said = known.flatMap(({ from }) => from);
  const termsIn = (family: string, on: string[]) =>
    said.flatMap((field) => {
      const { term, zone = "" } = (record.fields[field]?.value ?? {}) as { term?: string; zone?: string };
      return term && field.startsWith(family) && (!on.length || on.includes(zoneOf(zone))) ? term : [];
    });
  // That it was not painted over, which is of the family, says nothing of whether it was polished.
  const isOnRecord = ({ terms, found_on: on = [] }: LeavesOpen) =>
    terms.some(
      (term) =>
        termsIn("denials/", on).includes(term) ||
        termsIn("findings/", on).some((other) => related(book, term, other)),
    );
  const isFoundOn = (zones: string[]) =>
    seenFindings(record).some(({ value }) => zones.includes(zoneOf(value.zone)));
  const isMeasured = (measure: string) => Boolean(fieldValue(record, `measures/${measure}`)?.value);
  const lit = lightsOnRecord(record);
  // What it is called says what it is made of.
  const isByName = (fact: string) => fact === MATERIALS && said.includes("short_description");
  const told = known.flatMap(({ words }) => wordsIn(words));
  // That nothing was copied tells nothing of what stands there.
  const isTold = (fact: string) =>
    Boolean(FACTS[fact]?.sentences(described).length) &&
    !(fact === MARKS && described.plan.marks_always && !isAnyMark(record));
  const isShownBy = ({ shown }: LeavesOpen) =>
    shown?.zones.filter((zone) => isExamined(described, zone)) ?? [];
  const isShown = (open: LeavesOpen) => isShownBy(open).length > 0;
  return leaves_open
    .filter((open) => isAskedOf(record, open) && isOpenAtAny(described, open))
    .filter(
      ({ if_none = [] }) =>
        keysIn(described, if_none).every((key) => isNone(record, key)) &&
        !if_none.some((zone) => apart?.(`without/${zone}`)),
    )
    .filter(({ of }) => !of.length || of.some((zone) => !isGone(described, zone)))
    .filter(({ if_unseen = [] }) => !if_unseen.length || isAllUnseen(described, if_unseen))
    .filter(({ beside = [] }) => !beside.length || beside.some((zone) => !isGone(described, zone)))
    .filter(({ mixed = [] }) => !mixed.length || isMixed(record, mixed))
    .filter(({ if_found = [] }) => !if_found.length || isFoundOn(if_found))
    .filter(({ if_measured = [] }) => !if_measured.length || if_measured.some(isMeasured))
    .filter(({ lacking = [] }) => !lacking.length || isWhichUnnoted(record, lacking))
    .filter(({ unless_lost = [] }) => !isMuchLost(described, unless_lost))
    .filter(
      (open) =>
        !open.statements.some((statement) => said.includes(`statements/${statement}`)) &&
        !open.lights.some((light) => lit.has(light)) &&
        !open.tests?.some((test) => said.includes(`tests/${test}`)) &&
        !open.made?.some((test) => isMade(record, test)) &&
        !open.facts?.some((fact) => isByName(fact) || isTold(fact)) &&
        !open.said_by?.some((word) => told.includes(word)) &&
        (isShown(open) || !isOnRecord(open)),
    )
    .map((open) => {
      const {
        words,
        sealed,
        unseen,
        shown,
        untried,
        of,
        named = [],
        if_none = [],
        at_each = null,
        alone = [],
      } = open;
      const seen = isShownBy(open);
      if (seen.length && isInPartAlone(described, seen))
        return sentence(
          words.replace(/^whether it is /, `whether ${theRest(described)} `),
          seen.map((zone) => `zones/${zone}`),
        );
      if (shown && seen.length) {
        const isOnlyTicked = Boolean(shown.open) && !seen.some((zone) => isSeen(record, zone));
        return sentence(
          (isOnlyTicked && shown.open) || shown.words,
          seen.map((zone) => `zones/${zone}`),
          isOnlyTicked ? seen.map((zone) => `there/${zone}`) : [],
        );
      }
      const shut = (sealed?.zones ?? []).filter((zone) => isSealed(record, zone));
      return sealed && shut.length
        ? sentence(
            sealed.words,
            shut.map((zone) => `zones/${zone}`),
          )
        : sentence(
            unseen && isAllUnseen(described, unseen.zones) ? unseen.words : words,
            if_none.flatMap((zone) => statesOf(described, zone)),
            [
              ...(untried || at_each ? untriedKeys({ of, named, at_each }) : []),
              ...keysIn(described, alone).map((key) => `there/${key}`),
            ],
          );
    });
}

/**
 * Whether several pieces are seen to be of one material of each list, such as silver and plate, and not which of
 * what.
 */
function isMixed(record: RecordCopy, lists: string[][]) {
  const seen = (fieldValue(record, "materials") ?? "")
    .toLowerCase()
    .split(/[,;]\s*(?:and\s+)?|\s+(?:and|&)\s+/);
  const all = seen.map((words) => words.trim().replace(/\.$/, "")).filter(Boolean);
  const isOneOfEach = lists.every((list) => all.some((words) => list.includes(words)));
  return piecesOf(record) > 1 && isOneOfEach && all.every((words) => lists.flat().includes(words));
}

/** Whether something is missing from one of these zones, and the note with it gives no number or title of that. */
function isWhichUnnoted(record: RecordCopy, zones: string[]) {
  return seenFindings(record).some(
    ({ value: { zone, term, note } }) => zones.includes(zone) && term === MISSING && isCountAlone(note),
  );
}

/** Whether a part of one of these zones is gone that is more than its fringe: a serious loss, or one of the border. */
function isMuchLost({ plan, book, record }: Described, zones: string[]) {
  return seenFindings(record).some(
    ({ value: { zone, term, severity, note } }) =>
      zones.includes(zoneOf(zone)) &&
      LOSSES.includes(term) &&
      (severity >= SERIOUS ||
        plan.zones.some((row) => row.zone !== zoneOf(zone) && isNamedIn(note, zoneNameOf(book, row.zone)))),
  );
}

/** "Eleven volumes of twelve": how many there are, and no more. */
function isCountAlone(note: string) {
  const words = wordsAndFigures(note);
  const isCount = (word: string) => /^\d+$/.test(word) || numberOf(word) !== null || COUNTING.has(word);
  const hasNumber = words.some((word, at) => /^vol(?:ume)?$/.test(word) && isNumberAfter(words[at + 1]));
  return !hasNumber && words.every(isCount);
}

function isNumberAfter(word = "") {
  return /^(?:\d+|[ivxlc]+)$/.test(word) || numberOf(word) !== null;
}

function wordsAndFigures(words: string) {
  return words
    .toLowerCase()
    .split(/[^\p{L}\d]+/u)
    .filter(Boolean);
}

function keysIn({ plan }: Described, zones: string[]) {
  return plan.zones.filter(({ zone }) => zones.includes(zone)).flatMap(keysOf);
}

/** The states of a zone and its members that are on record. */
function statesOf(described: Described, zone: string) {
  const names = keysIn(described, [zone]).map((key) => `zones/${key}`);
  return names.filter((name) => described.record.fields[name]);
}

/** Whether each of these zones is missing, or somebody said that he could not look at it; none that it never had. */
function isAllUnseen(described: Described, zones: string[]) {
  const { record } = described;
  const there = keysIn(described, zones).filter((key) => !isNone(record, key));
  const isUnseen = (key: string) => fieldValue(record, `zones/${key}`)?.state === "not-examined";
  const isLost = (key: string) =>
    isMissing(described, key) ||
    seenFindings(record).some(({ value }) => value.zone === key && value.term === LEAF_MISSING);
  return there.length > 0 && there.every((key) => isUnseen(key) || isLost(key));
}

function materials({ record }: Described): Sentence[] {
  const words = fieldValue(record, "materials")?.trim();
  return words ? [sentence(`materials as seen: ${withoutStop(words)}`, ["materials"], WHAT)] : [];
}

function maker({ plan, book, record }: Described): Sentence[] {
  const noun = plan.maker_noun ?? MAKER;
  if (fieldValue(record, "maker_certainty") === "unknown")
    return [sentence(`${noun} not determined`, ["maker_certainty"])];
  const open = makersUnsettled(plan, book, record);
  if (open.length) return open.map(({ words, from }) => sentence(words, from, WHAT));
  return makerWords(book, record).map(({ words, from }) => sentence(saidOfMaker(words, noun), from, WHAT));
}

/** "It is from the workshop of ...": a rung of the ladder as a sentence; what stands on none is as it was given. */
function saidOfMaker(words: string, noun: string) {
  if (/^(workshop|circle) of /i.test(words)) return `it is from the ${words}`;
  if (/^follower of /i.test(words)) return `it is by a ${words}`;
  if (
    /^(by|from|attributed to|in the manner of|after|(printed|published|engraved|drawn|made|sold|retailed) .*) /i.test(
      words,
    )
  )
    return `it is ${words}`;
  return `the ${noun} is given as ${words}`;
}

/** "What speaks for the maker: mark or signature, and style" */
function evidence({ book, record }: Described): Sentence[] {
  const given = fieldValue(record, "maker_evidence") ?? [];
  const words = book.words.evidences.flatMap(({ evidence, words }) =>
    given.includes(evidence) && evidence !== HEARSAY ? words : [],
  );
  if (!words.length || !makerWords(book, record).length) return [];
  return [sentence(`what speaks for the ${MAKER}: ${words.join("; ")}`, ["maker_evidence"], WHAT)];
}

/** Whether a mark was copied of which nobody said what it is worth. */
function isMarkOpen(record: RecordCopy) {
  const marks = listed(record, "marks/").filter(({ value }) => !value.withdrawn);
  return marks.length > 0 && marks.every(({ value }) => !JUDGED.includes(value.standing ?? ""));
}

/** Whether marks were copied, and of none of them somebody said how it reads or whose it is: "18" is no carat yet. */
function isMeaningOpen(record: RecordCopy) {
  const marks = listed(record, "marks/").filter(({ value }) => !value.withdrawn);
  return isMarkOpen(record) && marks.every(({ value }) => !value.reading?.trim());
}

/** The marks that have figures in them, or were read as a number. */
function numbers({ plan, book, record, apart }: Described): Sentence[] {
  const isNumber = (name: string) =>
    listed(record, "marks/").some(({ id, value }) => name === `marks/${id}` && /\d/.test(value.text));
  const fields = Object.entries(record.fields).filter(
    ([name]) => name !== "marks_looked" && (!name.startsWith("marks/") || isNumber(name)),
  );
  return markSentences(plan, book, { ...record, fields: Object.fromEntries(fields) }, apart);
}
