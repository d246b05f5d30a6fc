/** Where something else came of a trial than what the desk wrote of, and what was set after it wrote. */
import type { Described } from "./families.ts";
import type { SentenceVersion } from "./fields.ts";
import { knewOf } from "./stopped.ts";
import {
  isOnNothing,
  isRuledOut,
  trialInWords,
  triedWords,
  undoneOfOne,
  undoneWords,
  wasMadeAfterAll,
} from "./trials.ts";
import type { FieldValue, FunctionTest, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

/** When and on which device the desk wrote; without a place in the device's order the clock alone decides. */
export type Written = FieldValue & { device_seq: number };

/**
 * Whether something else came of a test than was said, or a finding speaks against it. Where the words `before` are
 * those of no result of today, it is what was set since that tells: a sentence is not overtaken by our wording.
 */
export function isTrialTurned(described: Described, version: SentenceVersion, id: string) {
  const before = version.record_words;
  const test = described.plan.tests.find((known) => known.test === id);
  const made = fieldValue(described.record, `tests/${id}`);
  if (!test || !made) return false;
  if (isOnNothing(described, test)) return true;
  const now = trialInWords(described, test, { ...made, note: "" }, "unsaid");
  // That it was tried is the same, told of the whole, as what came of it on the other pieces.
  const asTried = made.result === "works" && isRuledOut(described, test) ? triedWords(test) : now;
  // Of how many of several it is so may be said since: what came of it is the same.
  const plain = made.result === "works-in-part" ? test.in_part : made.result === "works" ? test.said : null;
  const isPlain = Boolean(plain) && !isRuledOut(described, test) && isSaidIn(before, plain ?? "");
  const isSame = now !== "" && (isPlain || isSaidIn(before, now) || isSaidIn(before, asTried));
  const isUndone = undoneIn(described, test).some((words) => isSaidIn(before, words));
  if (isUndone && (made.result === "not-done" ? wasMadeAfterAll(described, test) : !isSame)) return true;
  if (!now) return made.result === "works" && isRuledOut(described, test);
  if (isSame) return false;
  const wasSaid = resultWords(described, test).some((words) => isSaidIn(before, words));
  return wasSaid || isSetSince(described.record, version, `tests/${id}`);
}

/** What would be said of each result of a test, whatever was found beside it. */
function resultWords(described: Described, test: FunctionTest): string[] {
  const results = ["works", "works-in-part", "no-response"] as const;
  const words = results.map((result) =>
    trialInWords(described, test, { result, why: "", note: "" }, "unsaid"),
  );
  const own = test.looks ? [] : [test.said, test.tried]; // a look says how it was made, whatever came of it
  // What it had not all of may have been known only since.
  const before = test.in_general ? resultWords(described, test.in_general) : [];
  return [...words, ...own, ...undoneIn(described, test), ...before].flatMap((one) => one || []);
}

/** That nobody made a test, of one thing or of several: what it is called may have been put right since. */
function undoneIn(described: Described, test: FunctionTest): string[] {
  const before = test.in_general ? undoneIn(described, test.in_general) : [];
  return [undoneOfOne(test), undoneWords(described, test), ...before];
}

/** Whether a sentence begins with words, of one thing or of several. */
function isSaidIn(before: string, words: string) {
  const plain = (some: string) =>
    some
      .toLowerCase()
      .replaceAll(/\b(it|they|was|were|does|do)\b/g, "")
      .trim();
  return before.split(/(?<=[.!?]) /).some((said) => plain(said).startsWith(plain(words)));
}

/** Whether the desk had seen what stands in a field when it wrote; not known of a record without times. */
export function isKnownTo({ fields }: RecordCopy, { text, sentence }: SentenceVersion, name: string) {
  const [written, set] = [fields[`sentences/${text}/${sentence}`], fields[name]];
  if (!set) return true;
  return Boolean(written?.made_at && set.made_at) && knewOf(written as Written, set as FieldValue);
}

/** Whether a field was set after the desk wrote: a record without that knows of no such thing. */
export function isSetSince({ fields }: RecordCopy, { text, sentence }: SentenceVersion, name: string) {
  const [written, set] = [fields[`sentences/${text}/${sentence}`], fields[name]];
  return Boolean(written?.made_at && set?.made_at) && !knewOf(written as Written, set as FieldValue);
}
