/**
 * The condition paragraph: made from the record alone, in a fixed order, so that the same record gives the same words.
 *
 * Order: the overall word; what is serious, worst first; the rest in the order of the walk, structure before surface;
 * what is original, replaced or later; function; what was looked for and not found; what was not examined; what goes on
 * or holds the item; and how it was examined. Source of the order: common practice, worst first and then top to bottom;
 * its exact steps are the house's. How the word was reckoned is on the screen and stays out of the text.
 */

import { asOffered } from "./as_offered.ts";
import { namedFor } from "./called.ts";
import { clearedCautions, holdingCautions, isStopped } from "./cautions.ts";
import { checkOf, checksInForce, checkWords, partOf } from "./compared.ts";
import { gradeOf } from "./condition.ts";
import { denialSentences } from "./denials.ts";
import { listInWords, withoutArticle } from "./english.ts";
import { type Apart, type Described, seenFindings, termOf, WHOLE } from "./families.ts";
import { nameOf } from "./fault_names.ts";
import type { CautionDecision, FindingValue } from "./fields.ts";
import { findingSentences } from "./finding_sentences.ts";
import { goneHome, goneHomeSentences, isGoneHome, neverHereSentences } from "./gone_home.ts";
import { asOneOfParts } from "./in_its_parts.ts";
import { wordsInLine } from "./in_line.ts";
import { linesListed } from "./listed_pieces.ts";
import { lookSentences } from "./look_sentences.ts";
import { howExamined, itOrThem, saidOfThem, unseenSentences, withoutSentences } from "./looked.ts";
import { originSentences } from "./origins.ts";
import { otherPapersOpen } from "./papers.ts";
import { awaySentences, pieceSentences } from "./piece_sentences.ts";
import { placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { type Sentence, saidOnce, sentence, withoutStop } from "./sentences.ts";
import { signSeen } from "./sign_words.ts";
import { statementSentences } from "./statements.ts";
import { isDecided } from "./stopped.ts";
import { isTakenUp } from "./taken_up.ts";
import { planFor } from "./tests_fitted.ts";
import { trialSentences } from "./trials.ts";
import { withSmallLetter } from "./typed_names.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { uncopiedSentences } from "./uncopied.ts";
import { unmeasured } from "./unmeasured.ts";
import { apartUnsettled, asUnsettled, sidesOf, withUnsettled } from "./unsettled.ts";
import { untriedSentences } from "./untried.ts";
import type { Listed } from "./values.ts";
import { fieldValue, groupedBy, isContested, listed } from "./values.ts";
import { isBackWithOwner } from "./with_owner.ts";

const SEVERE = 4;
const ON_THE_GRAVER = "on the graver of what was recorded";

export function conditionParagraph(
  plan: Plan,
  house: PlanBook,
  said: RecordCopy,
  written?: Apart,
): Sentence[] {
  const record = asOneOfParts(plan, house, asOffered(said));
  const book = namedFor(house, record, plan);
  const apart = apartUnsettled(record, written);
  const described = { plan: planFor(plan, record), book, record, apart };
  const sentences = isGoneHome(record)
    ? goneSentences(described)
    : [...neverHereSentences(record), ...sentencesOf(described)];
  return saidOnce(withUnsettled(record, sentences), apart);
}

/** What is said of what went home: nobody is told how it is, since it is not offered. */
export function goneSentences(described: Described): Sentence[] {
  const cautions = [...cautionSentences(described), ...clearanceSentences(described)];
  return [...goneHomeSentences(described, cautions), ...cautions];
}

function sentencesOf(described: Described): Sentence[] {
  const { plan, record } = described;
  // Of what a red caution stops, nobody says how it is, nor that it can be moved.
  if (plan.refer_only)
    return [
      sentence(
        `condition not ${isExamined(record) ? "stated" : "examined"}: left to a specialist`,
        [],
        ["unseen"],
      ),
      ...cautionSentences(described),
      ...clearanceSentences(described),
    ];
  if (isStopped(record))
    return [
      ...(isExamined(record) ? [] : [sentence("condition not examined", [], ["unseen"])]),
      ...cautionSentences(described),
    ];
  const told = findingSentences(described);
  const grade = overall(described);
  const found = [
    ...awaySentences(described),
    ...grade,
    ...told,
    ...otherPapersOpen(described),
    ...pieceSentences(described),
    ...unmeasured(described, told),
    ...(grade.some(({ words }) => /\bdiffered from\b/.test(words)) || isTakenUp(described)
      ? []
      : checkInSentences(record)),
    ...originSentences(described),
    ...trialSentences(described),
  ];
  // Framed or not goes with light and tools.
  const isOfLook = ({ keys }: Sentence) =>
    plan.negatives.some((one) => one.shows?.length && keys.includes(`statements/${one.negative}`));
  const statements = statementSentences(described);
  const rest = [
    ...untriedSentences(described),
    ...denialSentences(described),
    ...statements.filter((one) => !isOfLook(one)),
    ...uncopiedSentences(described),
    ...unseenSentences(described),
    ...withoutSentences(described),
  ];
  const ending = [
    ...goingOn(described),
    ...cautionSentences(described),
    ...clearanceSentences(described),
    ...statements.filter(isOfLook),
    ...howExamined(described),
  ];
  const looks = lookSentences(described, [...found, ...rest]);
  return saidOfThem(described, [...found, ...looks, ...rest, ...ending]);
}

/** Whether anybody looked at it before it was stopped. */
function isExamined(record: RecordCopy) {
  return (
    seenFindings(record).length > 0 ||
    listed(record, "zones/").some(({ value }) => value.state !== "not-examined")
  );
}

/** What was found to differ when it was checked in: no look at the table showed it. */
export function checkInSentences(record: RecordCopy): Sentence[] {
  return checksInForce(record).flatMap(({ tag, value }) => {
    if (value.state !== "differs") return [];
    const differs = withoutStop(checkWords(value));
    const what = partOf(record, tag) || "it";
    const words = differs
      ? `noted when ${what} was checked in: ${differs}`
      : `when ${what} was checked in, it differed from its pictures`;
    return [sentence(words, [tag ? `check-in/${tag}` : "check-in"])];
  });
}

/** A class with a scale of its own is graded on that one in print. */
export function overall(described: Described): Sentence[] {
  const { record } = described;
  const isGrade = isContested(record, "class_grade");
  return overallWord(described).map(({ words, from }) => {
    const others = sidesOf(record).flatMap((side) => overallWord({ ...described, record: side }));
    if (isGrade && from.includes("class_grade")) return sentence(asUnsettled(words), from, ["overall"]);
    // Nobody recorded the word: it follows from what is said of each fault.
    const isGraver = /^not graded/i.test(words) ? false : others.some((other) => other.words !== words);
    return sentence(isGraver ? `${withoutStop(words)}, ${ON_THE_GRAVER}` : words, from, ["overall"]);
  });
}

function overallWord(described: Described): Sentence[] {
  const { plan, record } = described;
  const states = Object.keys(record.fields).filter((name) => name.startsWith("zones/"));
  if (!states.length) return [];
  const grade = gradeOf(plan, record);
  const so_far = grade.so_far ? ", so far as examined" : "";
  if (plan.scale.length) {
    const own = withoutStop(fieldValue(record, "class_grade") ?? "");
    if (own && grade.not_graded !== "held")
      return [sentence(`${own}, ${gradedAs(plan)}${so_far}`, ["class_grade"])];
  }
  if (grade.not_graded) {
    const differed = checksInForce(record).map(({ tag }) => (tag ? `check-in/${tag}` : "check-in"));
    const from = grade.not_graded === "differed since" ? [...states, ...differed] : states;
    return [sentence(`not graded: ${whyNotGraded(described, grade.not_graded)}`, from)];
  }
  if (plan.scale.length || !grade.word) return [sentence(`not graded ${onScale(plan)}`, states)];
  return [
    sentence(grade.word + why(described, grade.word) + so_far, [
      ...states,
      ...(grade.moved ? ["grade"] : []),
    ]),
  ];
}

/** "Very fine, as coins and medals are graded" */
function gradedAs({ graded_as }: Plan) {
  return graded_as ? `as ${graded_as} are graded` : "on the scale of its class";
}

function onScale({ graded_as }: Plan) {
  return graded_as ? `on the scale for ${graded_as}` : "on the scale of its class";
}

/** Why no word is given, as whoever bids would ask it: never how the house reckons. */
function whyNotGraded(described: Described, reason: NonNullable<ReturnType<typeof gradeOf>["not_graded"]>) {
  const them = itOrThem(described);
  const [it, was, is] = them === "them" ? ["they", "were", "are"] : ["it", "was", "is"];
  switch (reason) {
    case "differed since":
      return differedInWords(described.record, it, was);
    case "held":
      return heldFor(described) ?? `${it} ${is} kept apart`;
    case "too little examined":
      return `too little of ${them} was examined`;
  }
}

/** The one reason that a bidder has to have beside the word: that it is not whole. */
function why({ book, record }: Described, word: string) {
  if (word !== "poor" && word !== "as found") return "";
  const severe = seenFindings(record).filter(
    ({ value }) => value.severity === SEVERE && (value.certainty ?? "certain") === "certain",
  );
  const makes = [...new Set(severe.flatMap(({ value }) => termOf(book, value.term)?.makes ?? []))].sort();
  return makes.length ? `, because ${listInWords(makes)}` : "";
}

/** What differed has no word until somebody has looked at it, not only compared. */
function differedInWords(record: RecordCopy, it: string, was: string) {
  const isNoted = withoutStop(checkOf(record)?.value.words ?? "");
  if (isNoted) return `what was noted when ${it} ${was} checked in has not been examined since`;
  return `${it} differed from ${it === "they" ? "their" : "its"} pictures when ${it} ${was} checked in`;
}

const SPREADS = "Q";

/** Of findings what they are called: "the live insects and the mould". */
function faultNames({ book }: Described, some: readonly Listed<FindingValue>[]) {
  const byTerm = groupedBy(
    some.map(({ value }) => value),
    ({ term }) => term,
  );
  return listInWords([...byTerm].map(([term, values]) => `the ${nameOf(book, term, values)}`).sort());
}

/** For what that could spread it has no word; null if only its owner speaks of such a thing. */
function heldFor(described: Described): string | null {
  const { record } = described;
  const spreading = seenFindings(record).filter(({ value }) => value.activity === SPREADS);
  if (!spreading.length) return null;
  const isHeld = holdingCautions(record).length > 0 && !isBackWithOwner(record);
  const told = new Set(cautionSentences(described).flatMap(({ keys }) => keys));
  if (isHeld && spreading.every((one) => told.has(goingOnKey(one)))) return "held back";
  return `${isHeld ? "held back" : "kept apart"} because of ${faultNames(described, spreading)}`;
}

/** What goes on by itself, and what could spread; for what it is held back it is kept apart anyway. */
function goingOn(described: Described): Sentence[] {
  const { record, apart } = described;
  const held = new Set(cautionSentences(described).flatMap(({ keys }) => keys));
  const activitySentences = (activity: string, words: (names: string) => string) => {
    const all = seenFindings(record).filter(
      (one) => one.value.activity === activity && !held.has(goingOnKey(one)),
    );
    return [...groupedBy(all, (one) => apart?.(goingOnKey(one)) ?? "").values()].map((some) => {
      const from = some.map(({ id }) => `findings/${id}`);
      return sentence(words(faultNames(described, some)), from, some.map(goingOnKey));
    });
  };
  return [
    ...activitySentences("P", (what) => `${what} may get worse`),
    ...activitySentences(SPREADS, (what) => `kept apart from other items: ${what}`),
  ];
}

function goingOnKey({ id, value }: Listed<FindingValue>) {
  return `going-on/${(value.activity ?? "").toLowerCase()}/${id}`;
}

/** The findings that could spread of which a caution says no more than they; none that the desk wrote of by itself. */
function spreadingOf({ record, apart }: Described, { value: { sign } }: Raised) {
  return faultsNoted(record, signSeen(sign)).filter(
    (one) => one.value.activity === SPREADS && !apart?.(goingOnKey(one)),
  );
}

/** What becomes of it by what was decided of a caution; it is held while nobody has decided, or two otherwise. */
const HELD_WORDS: Partial<Record<CautionDecision["decision"], string>> = {
  referred: "referred elsewhere",
  "taken-away": "taken away",
  returned: "going back",
};
const HELD_BACK = "held back";

/**
 * "Held back because of the mould; not offered until cleared": what was seen is no lot by itself. A sign as somebody
 * typed it, such as "from a damp cellar", may be no noun, and stands behind a colon.
 */
function heldInWords(becomes: string, seen: string[], isWhy: boolean) {
  const offered = becomes === HELD_BACK ? "not offered until cleared" : "not offered";
  if (!seen.length) return `${becomes}, and ${offered}`;
  return isWhy
    ? `${becomes} because of ${listInWords(seen)}; ${offered}`
    : `${becomes}, and ${offered}; noted: ${seen.join("; ")}`;
}

/** What holds it, each by what was seen and where, and what was decided of it: never by what that may be. */
export function cautionSentences(described: Described): Sentence[] {
  const isHome = isGoneHome(described.record);
  const decisionOf = ({ id, on }: Raised) => {
    const name = `caution-decisions/${id}` as const;
    return isDecided(on, name) ? fieldValue(on, name)?.decision : undefined;
  };
  // Why somebody took home what nobody had decided of, is not known.
  const isWhy = (raised: Raised) =>
    faultsNoted(described.record, signSeen(raised.value.sign)).length > 0 &&
    (!isHome || decisionOf(raised) === "returned");
  const decided = groupedBy(holdingCautions(described.record), (raised) => {
    if (isHome) return goneHome(described);
    return HELD_WORDS[decisionOf(raised) ?? "isolated"] ?? HELD_BACK;
  });
  return [...decided].map(([becomes, cautions]) => {
    const seen = [...new Set(cautions.map((caution) => signOf(described, caution)))].filter(Boolean);
    const spreading = cautions.flatMap((caution) => spreadingOf(described, caution));
    return sentence(
      heldInWords(becomes, seen, cautions.every(isWhy)),
      [
        ...cautions.flatMap((caution) => fieldsOf(described, caution)),
        ...spreading.map(({ id }) => `findings/${id}`),
      ],
      [...cautions.map(heldKey), ...spreading.map(goingOnKey)],
    );
  });
}

/** Uses that set no limit beside a sale: any other word of a clearance may be one. */
const WITHOUT_LIMIT =
  /^(sale|taking in|description|photography|display|cataloguing|viewing|any use|all uses)$/i;

const OF_PRICES = /\b(?:estimat\w*|reserves?|prices?|priced|valuations?)\b/i;

/** Whether it may be sold without more ado: "sale, in the country only" is a limit. */
function isForSale(words: string) {
  const uses = words.split(/\s*[,;]\s*|\s+and\s+/);
  return uses.every((use) => WITHOUT_LIMIT.test(use)) && uses.some((use) => /^sale$/i.test(use));
}

/** "Cleared for display only", but "cleared, and not for sale": a limit that says so gets no second "only". */
function clearedInWords(words: string) {
  if (/^(not|no|never|without) /i.test(words))
    return `cleared, but ${words.charAt(0).toLowerCase()}${words.slice(1)}`;
  const begins = words.replace(/^(?:only )?for /i, "");
  return /\b(only|alone|solely)\b/i.test(begins)
    ? `cleared for ${asGoingOn(begins)}`
    : `cleared only for ${asGoingOn(begins)}`;
}

function asGoingOn(words: string) {
  return words.replace(
    /^(Sale|Taking|Description|Photography|Display|Cataloguing|Viewing|Export|Only|The|An?)\b/,
    (begin) => begin.toLowerCase(),
  );
}

/** What a clearance says of estimates and prices is for the desk alone. */
function ofNoPrice(words: string) {
  const clauses = words.split(/\s*;\s*|,\s+(?:and\s+)?/);
  const kept = clauses.filter((clause) => !OF_PRICES.test(clause));
  return kept.length < clauses.length ? kept.join("; ") : words;
}

/** For what it was cleared and for nothing else: of what may be sold without more ado nobody needs to know it. */
export function clearanceSentences(described: Described): Sentence[] {
  return clearedCautions(described.record).flatMap((caution) => {
    const { id, on } = caution;
    const words = ofNoPrice(withoutStop(fieldValue(on, `caution-decisions/${id}`)?.cleared_for ?? ""));
    if (!words || isForSale(words)) return [];
    const cleared = clearedInWords(words);
    const seen = signOf(described, caution);
    // A limit may have clauses of its own, so that what was noted stands before it, as no lot by itself.
    const limit = seen ? `noted: ${seen}; ${cleared}` : cleared;
    const said = isGoneHome(described.record) ? `${goneHome(described)}, and not offered; ${limit}` : limit;
    return [sentence(said, fieldsOf(described, caution), [heldKey(caution)])];
  });
}

type Raised = ReturnType<typeof holdingCautions>[number];

function heldKey({ id }: Raised) {
  return `held/${id}`;
}

/** Of the record that is described: what stands on another of the same thing is no field of this one. */
function fieldsOf({ record }: Described, { id, on }: Raised) {
  const decision = `caution-decisions/${id}`;
  return [`cautions/${id}`, ...(on === record && record.fields[decision] ? [decision] : [])];
}

/** Whole words: leaded glass is no lead. */
function plainly(words: string) {
  return ` ${words.toLowerCase()} `.replaceAll(/[^\p{L}]+/gu, " ");
}

/** "A toast rack: pale handle": of a list the piece stands behind what was seen on it. */
function ofLine(record: RecordCopy, sign: string) {
  const [, piece = "", seen = ""] = /^([^:]+): (.+)$/.exec(sign) ?? [];
  const isOfList = linesListed(record).some(({ value }) => wordsInLine(value.words) === piece);
  return isOfList ? `${seen} on the ${withoutArticle(piece)}` : sign;
}

/**
 * A sign as it was recorded, and its zone unless it names that; of one that says what it may be, the zone alone. What
 * would tell the room that its owner is doubted stays inside.
 */
function signOf({ plan, book, record }: Described, { value, on }: Raised) {
  if (book.cautions.cautions.some(({ hazard, unsaid }) => hazard === value.hazard && unsaid)) return "";
  const written = signSeen(value.sign);
  const [fault] = faultsNoted(record, written);
  if (fault) return `the ${nameOf(book, fault.value.term, [fault.value])}`;
  const isNamed = book.cautions.cautions.some(
    ({ hazard, name }) => hazard === value.hazard && plainly(written).includes(plainly(name)),
  );
  // What its heading says already nobody reads again.
  const heading = plainly(fieldValue(record, "short_description") ?? "");
  const isInHeading = written !== "" && heading.includes(plainly(withoutArticle(written)));
  const sign =
    isNamed || isInHeading
      ? ""
      : withSmallArticle(withSmallLetter(ofLine(record, written), book.print.english));
  if (on !== record || !value.zone || value.zone === WHOLE) return sign;
  const name = zoneNameOf(book, zoneOf(value.zone));
  // A sign that names a zone says itself where it is.
  const names = [name, ...plan.zones.map(({ zone }) => zoneNameOf(book, zone))];
  const isIn = (noun: string) => plainly(sign).includes(plainly(noun));
  const isPlaced = names.some(({ one, many }, at) =>
    [one, many].some((noun) => noun && isIn(at ? `the ${noun}` : noun)),
  );
  if (isPlaced) return sign;
  const place = placesOf(plan, book, [value.zone]).words;
  // Behind words with stops of their own, a place would belong to the last of them.
  if (/[;:,()]/.test(sign)) return `${place}, ${sign}`;
  return `${sign || "something"} ${name.within ? "in" : "on"} ${place}`;
}

/** The findings whose note has the very words of a sign: nobody reads those twice. */
function faultsNoted(record: RecordCopy, sign: string) {
  const bare = (words: string) => plainly(words).replaceAll(/ (an?|the)(?= )/g, "");
  return seenFindings(record).filter(({ value }) => sign && bare(value.note) === bare(sign));
}

function withSmallArticle(words: string) {
  return words.replace(/^(An?|The) /, (article) => article.toLowerCase());
}
