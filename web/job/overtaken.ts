/**
 * Where the record has come to speak against what the desk wrote of it. A change of measure, count or note is shown
 * beside the desk's words, which stand; but of what turned out to be another fault, in another place, or hearsay the
 * record's words are printed until somebody decides.
 */
import { isFaultOnRecord, isStanding, standingDenials } from "./denials.ts";
import { type Described, related, saysOf, seenFindings, termOf, touch } from "./families.ts";
import type { FindingValue, SentenceVersion } from "./fields.ts";
import { isBlank } from "./looked.ts";
import { isNoLongerOriginal } from "./origins.ts";
import { isSaidByRecord, overall } from "./paragraph.ts";
import { memberWords, zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { isOnNothing, isRuledOut, trialInWords } from "./trials.ts";
import type { PlanBook } from "./types.ts";
import { fieldValue } from "./values.ts";
import { originWords } from "./wording.ts";
import { spaced } from "./words.ts";

/** Words that say of the whole thing what the record denies of some zones, and those that leave out what was found. */
const OF_ALL =
  /\b(anywhere|nowhere|everywhere|throughout|whatsoever|at all|all over|entirely|whole|any part)\b/i;
const OF_THE_REST = /\b(other|else|elsewhere|otherwise|apart|but|except|rest|further)\b/i;

/** Whether the record has come to speak against any of what a version speaks of. */
export function isOvertaken(described: Described, version: SentenceVersion): boolean {
  return (
    isDeniedTooFar(described, version) || version.speaks_of.some((key) => hasTurned(described, version, key))
  );
}

/** Whether the desk says of the whole that something is not there, and it was found on some zone. */
export function isDeniedTooFar({ book, record }: Described, { words, speaks_of }: SentenceVersion): boolean {
  if (!OF_ALL.test(words) || OF_THE_REST.test(words)) return false;
  const denials = speaks_of.flatMap((key) =>
    key.startsWith("denials/") ? (fieldValue(record, key as `denials/${string}`) ?? []) : [],
  );
  return seenFindings(record).some(({ value }) =>
    denials.some(({ term, withdrawn }) => !withdrawn && related(book, term, value.term)),
  );
}

/** Of what was struck nothing is said, so that no word of it can be hearsay or another than the record's. */
function hasTurned(described: Described, version: SentenceVersion, key: string): boolean {
  const { record, plan } = described;
  const before = version.record_words;
  const isStruck = version.version === "struck";
  const [family, ...rest] = key.split("/");
  const id = rest.join("/");
  switch (family) {
    case "findings":
      return isFindingTurned(described, before, id, isStruck);
    case "going-on":
      return isNoLongerGoingOn(described, rest[0] ?? "", rest.slice(1).join("/"));
    case "origins":
      return isOriginTurned(described, before, id);
    case "tests":
      return isTrialTurned(described, before, id);
    case "denials": {
      const denial = fieldValue(record, `denials/${id}`);
      if (!denial || denial.withdrawn) return false;
      return isFaultOnRecord(described, denial) || !isStanding(described, denial);
    }
    case "statements": {
      const statement = fieldValue(record, `statements/${id}`);
      return Boolean(statement && !statement.withdrawn && isSaidByRecord(described, id));
    }
    case "overall":
      return !isStruck && isOfAnotherWord(before, overall(described)[0]?.words ?? "");
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

/**
 * Whether a finding is only told now, not determined, of another name or in another place than in what the record said
 * `before`, when the desk wrote; or was withdrawn, and its zone is said to be clear of it.
 */
function isFindingTurned(described: Described, before: string, id: string, isStruck: boolean): boolean {
  const { plan, book, record } = described;
  const found = fieldValue(record, `findings/${id}`);
  if (!found || !before) return false;
  if (found.withdrawn) {
    const state = fieldValue(record, `zones/${found.zone}`)?.state;
    const isDenied = standingDenials(described).some(
      ({ value }) => touch(plan, value.zone, found.zone) && related(book, value.term, found.term),
    );
    return isDenied || state === "clear" || state === "not-examined";
  }
  if (found.certainty === "told") return !isStruck;
  if (found.certainty === "not-determined" && !before.includes("not determined")) return !isStruck;
  return isOfAnotherName(book, before, found) || isInAnotherPlace(book, before, found);
}

/** Whether a finding bears a name that was in no word of the sentence. */
function isOfAnotherName(book: PlanBook, before: string, found: FindingValue) {
  const term = termOf(book, found.term);
  if (!term) return false;
  const names = [term.noun, term.plural, saysOf(term, found.zone), ...(term.verbs ?? []), spaced(term.term)];
  return !isNamedIn(before, names);
}

/** Whether a finding is on a zone, or a member of one, that was in no word of the sentence. */
function isInAnotherPlace(book: PlanBook, before: string, { zone }: FindingValue) {
  const name = zoneNameOf(book, zoneOf(zone));
  if (zone === "outline") return false; // of the whole no place is named
  const called = (name.called ?? []).flatMap(({ one, many }) => [one, many]);
  if (!isNamedIn(before, [name.one, name.many, ...(name.counted ?? []), ...called])) return true;
  const [, member] = zone.split("/");
  return Boolean(member) && !/\b(each|both|all)\b/i.test(before) && !before.includes(memberWords(book, zone));
}

function isNamedIn(before: string, names: (string | null | undefined)[]) {
  const words = before.toLowerCase();
  return names.some((name) => name && words.includes(name.toLowerCase()));
}

/** `activity` is the letter of the key, which is small. */
function isNoLongerGoingOn({ record }: Described, activity: string, id: string) {
  const found = fieldValue(record, `findings/${id}`);
  return (
    !found ||
    found.withdrawn ||
    found.certainty === "told" ||
    (found.activity ?? "").toLowerCase() !== activity
  );
}

/** Whether a zone is something else now than it was said to be. */
function isOriginTurned(described: Described, before: string, id: string) {
  const set = described.record.fields[`origins/${id}`];
  const value = fieldValue(described.record, `origins/${id}`);
  if (!set || !value?.origin || !before) return false;
  const words =
    value.origin === "not-determined" ? "not determined" : originWords(described.book, value.origin);
  return !before.includes(words) || isNoLongerOriginal(described, id);
}

/** Whether something else came of a test than was said, or a finding speaks against it. */
function isTrialTurned(described: Described, before: string, id: string) {
  const test = described.plan.tests.find((known) => known.test === id);
  const made = fieldValue(described.record, `tests/${id}`);
  if (!test || !made) return false;
  if (isOnNothing(described, test)) return true;
  const now = trialInWords(described, test, { ...made, note: "" }, "unsaid");
  if (now) return !before.toLowerCase().includes(now.toLowerCase());
  return made.result === "works" && isRuledOut(described, test);
}

/** Whether the word for how it is, before any reason for it, is another one. */
function isOfAnotherWord(before: string, now: string) {
  const wordOf = (words: string) => /^[^,.:;]*/.exec(words)?.[0] ?? "";
  return Boolean(before && now) && wordOf(before) !== wordOf(now);
}

function isSeenAfterAll(described: Described, zone: string) {
  const { state, reason } = fieldValue(described.record, `zones/${zone}`) ?? {};
  return reason === "not-applicable" || (state !== "not-examined" && !isBlank(described, zone));
}
