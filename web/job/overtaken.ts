/**
 * Where the record has come to speak against what the desk wrote of it. A change of measure, count or note is shown
 * beside the desk's words, which stand; but of what turned out to be another fault, in another place, or hearsay the
 * record's words are printed until somebody decides.
 */

import { holdingCautions } from "./cautions.ts";
import { checkOf } from "./compared.ts";
import { isFaultOnRecord, isStanding } from "./denials.ts";
import { type Described, related, seenFindings, termOf, touch } from "./families.ts";
import type { FindingValue, SentenceVersion } from "./fields.ts";
import { originWords } from "./in_lists.ts";
import { lightOf, lightOfTest, lightsSeenWith, toolWords } from "./lights.ts";
import { howExamined, isBlank, saidOfThem } from "./looked.ts";
import { NOT_MEASURED, notMeasured } from "./not_measured.ts";
import { isNoLongerOriginal } from "./origins.ts";
import { checkInSentences, overall } from "./paragraph.ts";
import { isOpenOtherwise } from "./piece_sentences.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { asText, type Sentence } from "./sentences.ts";
import { isSaidByRecord } from "./statements.ts";
import { knewOf } from "./stopped.ts";
import { isToldByFinding, looksMade, wasMadeAfterAll } from "./trials.ts";
import {
  isMarked,
  isMarkTurned,
  isOtherText,
  isSizeTurned,
  isWhatTurned,
  OF_WHAT,
} from "./turned_description.ts";
import { isFindingTurned, isNamedIn, isNoLongerGoingOn } from "./turned_findings.ts";
import { isKnownTo, isSetSince, isTrialTurned, type Written } from "./turned_trials.ts";
import type { Light, RecordCopy } from "./types.ts";
import { fieldOfKey, isToldUnsettled } from "./unsettled.ts";
import { lightsOnRecord, untriedSentences } from "./untried.ts";
import { fieldValue, listed } from "./values.ts";
import { spaced } from "./words.ts";

/** Words that say of the whole thing what the record denies of some zones, and those that leave out what was found. */
const OF_ALL =
  /\b(anywhere|nowhere|everywhere|throughout|whatsoever|at all|all over|entirely|whole|any part)\b/i;
const OF_THE_REST = /\b(other|else|elsewhere|otherwise|apart|but|except|rest|further)\b/i;

/** Words that say of a zone, or of the whole, that nothing at all is wrong with it. */
const OF_NO_FAULT =
  /\b(sound|intact|unharmed|undamaged|unblemished|faultless|perfect|no (damage|faults?))\b/i;

/** Words for a fault that say of everything else that it is well. */
const NO_OTHER =
  /\b(no (other|further) (damage|faults?)|otherwise (sound|intact|undamaged|perfect|fine|good))\b/i;
/** From here a fault stands first in the paragraph, and holds the word for the whole down. */
const GRAVE = 3;

/** Whether the record has come to speak against any of what a version speaks of; `all` are the versions of its text. */
export function isOvertaken(
  described: Described,
  version: SentenceVersion,
  all: readonly SentenceVersion[],
): boolean {
  return (
    isTakenTooFar(described, version, all) ||
    version.speaks_of.some((key) => hasTurned(described, version, key))
  );
}

/**
 * Whether what the desk wrote says more than the record bears out: of the whole what is denied of a zone, that all is
 * well where it is not, or what another sentence said that was struck for it and no longer holds; and whether what was
 * struck for such a sentence is told by none now.
 */
export function isTakenTooFar(
  described: Described,
  version: SentenceVersion,
  all: readonly SentenceVersion[],
): boolean {
  if (isDeniedTooFar(described, version) || isPraisedTooFar(described, version)) return true;
  if (isNoLongerAlone(described, version)) return true;
  if (version.version !== "struck")
    return all.some((struck) => isTakenIn(described, struck, version) && isWithdrawn(described, struck));
  return all.some(
    (told) =>
      isTakenIn(described, version, told) &&
      (isDeniedTooFar(described, told) || told.speaks_of.some((key) => hasTurned(described, told, key))),
  );
}

/** Whether the desk said of one fault that there is no other, and another was found since. */
function isNoLongerAlone({ record }: Described, version: SentenceVersion) {
  if (!NO_OTHER.test(version.words)) return false;
  return seenFindings(record).some(
    ({ id, value }) =>
      value.severity > 0 &&
      !version.speaks_of.includes(`findings/${id}`) &&
      isSetSince(record, version, `findings/${id}`),
  );
}

/** Whether a fault was said to be grave since the desk wrote of it: in the record's words that may stand nowhere. */
export function isGraveSince({ record }: Described, version: SentenceVersion) {
  return seenFindings(record).some(
    ({ id, value }) =>
      value.severity >= GRAVE &&
      version.speaks_of.includes(`findings/${id}`) &&
      isSetSince(record, version, `findings/${id}`),
  );
}

/** Whether what was struck is told in what the desk wrote of something else: it names a zone that was not in that. */
function isTakenIn({ book, record }: Described, struck: SentenceVersion, told: SentenceVersion) {
  if (struck.version !== "struck" || told.version === "struck" || struck.text !== told.text) return false;
  return findingsOf(record, struck).some(({ zone }) => {
    const { one, many } = zoneNameOf(book, zoneOf(zone));
    return isNamedIn(told.words, [one, many]) && !isNamedIn(told.record_words, [one, many]);
  });
}

function findingsOf(record: RecordCopy, { speaks_of }: SentenceVersion): FindingValue[] {
  return speaks_of.flatMap((key) =>
    key.startsWith("findings/") ? (fieldValue(record, key as `findings/${string}`) ?? []) : [],
  );
}

/** Whether any finding that a version speaks of is on record no longer, or only told now, or of another name. */
function isWithdrawn(described: Described, version: SentenceVersion) {
  return version.speaks_of.some((key) => {
    const found = key.startsWith("findings/") && fieldValue(described.record, key as `findings/${string}`);
    if (!found) return false;
    const id = key.slice("findings/".length);
    return found.withdrawn || isFindingTurned(described, version.record_words, id, false);
  });
}

/** Whether the desk says of the whole that something is not there, and it was found on some zone. */
function isDeniedTooFar({ book, record }: Described, { words, speaks_of }: SentenceVersion): boolean {
  if (!OF_ALL.test(words) || OF_THE_REST.test(words)) return false;
  return seenFindings(record).some(({ value }) =>
    denialsOf(record, speaks_of).some(({ term, withdrawn }) => !withdrawn && related(book, term, value.term)),
  );
}

function denialsOf(record: RecordCopy, speaks_of: readonly string[]) {
  return speaks_of.flatMap((key) =>
    key.startsWith("denials/") ? (fieldValue(record, key as `denials/${string}`) ?? []) : [],
  );
}

/**
 * Whether what was denied is put so that it denies any fault ("The rim is sound."), and there is one; or whether the
 * word for the whole is put so that it speaks for every part, and something else is on record.
 */
function isPraisedTooFar({ plan, book, record }: Described, version: SentenceVersion): boolean {
  const { words, speaks_of } = version;
  if (!words.trim() || OF_THE_REST.test(words)) return false;
  const found = listed(record, "findings/").filter(({ value }) => !value.withdrawn && value.severity > 0);
  if (speaks_of.includes("overall") && (OF_ALL.test(words) || OF_NO_FAULT.test(words)))
    return (
      found.length > 0 ||
      holdingCautions(record).length > 0 ||
      checkOf(record)?.value.state === "differs" ||
      /examined/.test(version.record_words) !== /examined/.test(overallNow({ plan, book, record }))
    );
  return denialsOf(record, speaks_of).some(({ zone, term }) => {
    const known = termOf(book, term);
    const isNamed = isNamedIn(words, [known?.noun, known?.plural, spaced(term)]);
    const isBroad = OF_NO_FAULT.test(words) || (!isNamed && /\b(fine|good|clean)\b/i.test(words));
    return isBroad && found.some(({ value }) => touch(plan, value.zone, zone));
  });
}

function overallNow(described: Described) {
  return overall(described)[0]?.words ?? "";
}

/** Of what was struck nothing is said, so that no word of it can be hearsay or another than the record's. */
function hasTurned(described: Described, version: SentenceVersion, key: string): boolean {
  const { record, plan } = described;
  const before = version.record_words;
  const isStruck = version.version === "struck";
  const [family, ...rest] = key.split("/");
  const id = rest.join("/");
  if (isInDisputeSince(described, version, key)) return true;
  switch (family) {
    case "findings":
      return isFindingTurned(described, before, id, isStruck);
    case "which-piece":
      return isOpenOtherwise(described, before);
    case "going-on":
      return isNoLongerGoingOn(described, rest[0] ?? "", rest.slice(1).join("/"));
    case "origins":
      return isOriginTurned(described, before, id);
    case "tests":
      return isTrialTurned(described, version, id);
    case "denials": {
      const denial = fieldValue(record, `denials/${id}`);
      if (!denial) return false;
      if (denial.withdrawn) return OF_ALL.test(version.words);
      return isFaultOnRecord(described, denial) || !isStanding(described, denial);
    }
    case "statements": {
      const statement = fieldValue(record, `statements/${id}`);
      return Boolean(statement && !statement.withdrawn && isSaidByRecord(described, id));
    }
    case "overall":
      return !isStruck && isOfAnotherWord(before, overallNow(described));
    case "what":
    case "heading":
      return isWhatTurned(described, version);
    case "maker_certainty":
      return fieldValue(record, family) !== "unknown" && !isStruck;
    case "dates_certainty":
      return fieldValue(record, family) !== "not-determined" && !isStruck;
    case "seen_words":
    case "concluded_words":
      return isOtherText(described, version, family);
    case "marks":
      return isMarkTurned(described, version, id);
    case "marks_looked":
      return isMarked(described) && !isStruck;
    case "sizes":
      return isSizeTurned(described, version, id);
    case NOT_MEASURED:
      return !isStruck && !notMeasured(plan, record).length;
    case "untried":
      return isTriedAfterAll(described, id);
    case "check-in":
      return before !== "" && !asSaid(described, checkInSentences(record)).includes(before);
    case "lights":
      return isSeenOtherwise(described, version);
    case "unseen":
      return id !== "" && isSeenAfterAll(described, id);
    case "without": {
      const keys = plan.zones.filter(({ zone }) => zone === id).flatMap(keysOf);
      return keys.some((zone) => fieldValue(record, `zones/${zone}`)?.reason !== "not-applicable");
    }
    default:
      return false;
  }
}

/** A sentence of one thing and of several: that words of before were of one is no other fact. */
function asSaid(described: Described, sentences: Sentence[]) {
  return [asText(sentences), asText(saidOfThem(described, sentences))];
}

/** Whether a zone is something else now than it was said to be. */
function isOriginTurned(described: Described, before: string, id: string) {
  const set = described.record.fields[`origins/${id}`];
  const value = fieldValue(described.record, `origins/${id}`);
  if (!set || !value?.origin || !before) return false;
  const words =
    value.origin === "not-determined"
      ? "not determined"
      : originWords(described.book, value.origin).split(",")[0];
  return !before.includes(words ?? "") || isNoLongerOriginal(described, id);
}

/** Whether the word for how it is, before any reason for it, is another one. */
function isOfAnotherWord(before: string, now: string) {
  const wordOf = (words: string) => /^[^,.:;]*?(?= on the scale |[,.:;]|$)/.exec(words)?.[0] ?? "";
  return Boolean(before && now) && wordOf(before) !== wordOf(now);
}

/** Whether it was examined with more than it was said to be; what the desk knew is only worded otherwise now. */
function isSeenOtherwise(described: Described, version: SentenceVersion) {
  const before = version.record_words;
  const lights = lightsSeenWith(described.record);
  const looks = looksMade(described).map(({ light }) => light);
  const tools = [...lights, ...looks].map((name) => lightOf(described.book, name));
  const [now] = howExamined(described);
  if (now?.from.every((field) => isKnownTo(described.record, version, field))) return false;
  const isNamedBefore = (light: Light) =>
    [toolWords(light), ...(light.once ?? [])].some((words) => before.includes(words));
  return (
    Boolean(before && now) &&
    tools.some((light) => now?.words.includes(toolWords(light)) && !isNamedBefore(light))
  );
}

/** What the sentence that says what it is, and the heading, rest on. */
const OF_WHAT_IT_IS: readonly string[] = [...OF_WHAT, "materials"];

/** Whether two things have come to be said of what the desk wrote of, which says nothing of that. */
function isInDisputeSince({ record }: Described, version: SentenceVersion, key: string): boolean {
  if (isToldUnsettled(version.record_words)) return false;
  const names = key === "what" || key === "heading" ? OF_WHAT_IT_IS : [fieldOfKey(key)];
  const written = record.fields[`sentences/${version.text}/${version.sentence}`];
  return record.disagreements.some(({ field, other, settled }) => {
    if (settled || !names.includes(field)) return false;
    return !(written?.made_at && other.made_at && knewOf(written as Written, other));
  });
}

/** Whether something is on record of a test of which nobody had said anything, or nobody misses it any more. */
function isTriedAfterAll(described: Described, name: string) {
  const test = described.plan.tests.find((known) => known.test === name);
  if (test && (fieldValue(described.record, `tests/${name}`) || wasMadeAfterAll(described, test)))
    return true;
  if (test)
    return lightsOnRecord(described.record).has(lightOfTest(test)) || isToldByFinding(described, test);
  const missed = untriedSentences(described);
  return missed.every(({ keys }) => !keys.includes(`untried/${name}`));
}

function isSeenAfterAll(described: Described, zone: string) {
  const { state, reason } = fieldValue(described.record, `zones/${zone}`) ?? {};
  return reason === "not-applicable" || (state !== "not-examined" && !isBlank(described, zone));
}
