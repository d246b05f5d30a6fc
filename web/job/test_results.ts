/**
 * What may be said of a trial: of what is to work whether it works, of a look whether it was used, of anything else
 * what its plan prints of it. Nobody says of a count of knots that it works, nor of a pile that it gives no response.
 */
import type { RecordTest } from "./operations.ts";
import type { FunctionTest, PlanBook } from "./types.ts";
import { firstUpper, TEST_RESULTS } from "./words.ts";

type Result = RecordTest["result"];
/** Why beside a look that was made: somebody said that it showed nothing. Without it only the look is on record. */
export const NOTHING_SEEN = "nothing-seen";
/** What a key says: a result, or of a look that was made that nothing was seen. */
export type ResultKey = Result | typeof NOTHING_SEEN;
export type TestResults = readonly (readonly [ResultKey, string])[];

/** A light is used or not; what it showed stands with the zones, and that it showed nothing somebody has to say. */
const USED: TestResults = [
  [NOTHING_SEEN, "Used, nothing seen"],
  ["works", "Used, see findings"],
  ["works-in-part", "Used in part"],
  ["not-done", "Not used"],
];
/** The faults of what no longer works. */
const OF_WORKING: ReadonlySet<string> = new Set(["seized", "stiff", "stops", "no-action"]);

/** "it was going when examined, not timed" */
const GOES = /^it was \p{L}+ when examined/u;

/** The key of what is on record. */
export function keyOfResult({ result, why }: Pick<RecordTest, "result" | "why">): ResultKey {
  return isNothingSeen({ result, why }) ? NOTHING_SEEN : result;
}

/** What a key records; why not is said of what was not made alone. */
export function saidByKey(key: ResultKey, why_not: string): Pick<RecordTest, "result" | "why"> {
  if (key === NOTHING_SEEN) return { result: "works", why: NOTHING_SEEN };
  return { result: key, why: key === "not-done" ? why_not : "" };
}

/** Whether somebody said that a look showed nothing. */
export function isNothingSeen({ result, why }: { result?: string; why?: string | null }) {
  return result === "works" && why === NOTHING_SEEN;
}

/** `made` is what was said already: what no plan of now would offer stays to be read. */
export function resultsOf(test: FunctionTest, { words: { lights } }: PlanBook, made?: Result): TestResults {
  const isLight = !test.failed && lights.some(({ light }) => light === test.test);
  if (test.looks) return USED;
  if (isLight) return [["works", "Used"], ...USED.slice(2)];
  // On a button nobody needs to read what it is said of.
  const shortly = (words: string) => firstUpper(words.replace(/^it (was )?/, ""));
  if (!test.said || test.rules_out?.terms.some((term) => OF_WORKING.has(term)))
    // A clock that does not run gives no "response", and what runs is going: its plan says what it did, or did not.
    return TEST_RESULTS.map(([result, words]) => {
      const goes = GOES.test(test.said ?? "");
      const said = result === "no-response" ? test.failed : result === "works" && goes ? test.said : null;
      if (result === "works-in-part" && goes) return [result, "In part"];
      return [result, said ? shortly(said).replace(/ when (tried|examined)\b.*$/, "") : words];
    });
  const said: Record<Result, string> = {
    works: shortly(test.said),
    "works-in-part": shortly(test.in_part ?? "in part"),
    "no-response": shortly(test.failed ?? "no result"),
    "not-done": "Not done",
  };
  return TEST_RESULTS.flatMap(([result]) =>
    result === "no-response" && !test.failed && made !== result ? [] : [[result, said[result]] as const],
  );
}
