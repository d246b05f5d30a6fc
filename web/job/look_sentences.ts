/** Looks with a light, or the like, of which nothing else is told: what for, and that there was nothing to report. */
import { isTakenBack } from "./denials.ts";
import { type Described, seenFindings, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { howWords, lightOf, lightOfTest } from "./lights.ts";
import { placesOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, withoutStop } from "./sentences.ts";
import { isNothingSeen } from "./test_results.ts";
import { type TrialSentence, trialSentences } from "./trials.ts";
import type { FunctionTest, Plan } from "./types.ts";
import { isAnyOpen } from "./unseen_words.ts";
import { fieldValue, listed } from "./values.ts";

/** How the words of a look at the whole begin. */
const LOOKED = "looked at";
const NEVER = "not-applicable";

/**
 * Of what was looked at in some way: what for, and that there was nothing to report, so that nobody wonders what
 * ultraviolet showed. That it showed something on one part, or was used on that by itself, says nothing of the rest.
 */
export function lookSentences(described: Described, said: readonly Sentence[]): Sentence[] {
  const told = new Set(said.flatMap(({ keys }) => keys));
  return trialSentences(described, "said")
    .filter(({ look }) => look && !isLookOfAll(described, allKeys(described.plan), look))
    .map((trial) => ofNothingTold(described, trial, told));
}

function allKeys({ zones }: Plan) {
  return zones.flatMap(keysOf);
}

/** Whether each of these zones that was examined was so by this look. */
export function isLookOfAll({ book, record }: Described, keys: readonly string[], look: string) {
  const lights = keys.flatMap((key) => {
    const { state, light } = fieldValue(record, `zones/${key}`) ?? {};
    return state && state !== "not-examined" ? [light] : [];
  });
  return lights.length > 0 && lights.every((light) => light && howWords(lightOf(book, light)) === look);
}

/**
 * Of a look of which nothing else is told; "further" beside a finding of what it was for, which is `told`. Where such
 * a finding is told elsewhere alone, its zone is named: of that there is something to report.
 */
export function ofNothingTold(
  described: Described,
  trial: TrialSentence,
  told: ReadonlySet<string>,
): TrialSentence {
  const test = described.plan.tests.find(({ test }) => test === trial.about);
  if (test?.unread || (test && isInDoubt(described, lightOfTest(test)))) return trial;
  if (!isNothingSeen(fieldValue(described.record, `tests/${trial.about}`) ?? {}))
    return ofNothingNoted(described, trial, test);
  const { plan, book, record } = described;
  const all = seenFindings(record);
  const isTold = ({ id }: (typeof all)[number]) => told.has(`findings/${id}`);
  // A plan that does not say what its look was for may have found any of it.
  const seeks = test?.seeks ?? [];
  const found = all.filter((one) => (seeks.length ? seeks.includes(one.value.term) : isTold(one)));
  // What another light showed is nothing of this one.
  const isOfLook = ({ light }: FindingValue) => !light || !test || light === lightOfTest(test);
  const elsewhere = found.filter((one) => !isTold(one) && one.value.severity > 0 && isOfLook(one.value));
  const zones = elsewhere.map(({ value }) => value.zone).filter((zone) => zone !== WHOLE);
  const isToldOfLook = (one: (typeof all)[number]) => isTold(one) && isOfLook(one.value);
  const nothing = found.some(isToldOfLook) || elsewhere.length > zones.length ? "nothing further" : "nothing";
  const except = zones.length ? ` except on ${placesOf(plan, book, zones).words}` : "";
  const apart = test && notLookedAt(described, test);
  const looked = withoutStop(trial.words) + (apart ? `, except ${apart}` : "");
  return { ...trial, words: `${looked}, with ${nothing} to report${except}.` };
}

/**
 * Of a look of which nobody said what it showed: that it was made, and that this was not noted, unless something else
 * on record tells it. That a light was used is no word on what was seen.
 */
function ofNothingNoted(described: Described, trial: TrialSentence, test: FunctionTest | undefined) {
  const { plan, record } = described;
  const light = test && lightOfTest(test);
  const seeks = test?.seeks ?? [];
  const isFound = seenFindings(record).some(({ value }) =>
    value.light ? value.light === light : value.severity > 0 && seeks.includes(value.term),
  );
  const isDenied = listed(record, "denials/").some(({ value }) => !value.withdrawn && value.light === light);
  const isCleared = allKeys(plan).some((key) => {
    const state = fieldValue(record, `zones/${key}`);
    return state?.state === "clear" && state.light === light;
  });
  const apart = test && notLookedAt(described, test);
  const looked = withoutStop(trial.words) + (apart ? `, except ${apart}` : "");
  const isTold = isFound || isDenied || isCleared;
  return { ...trial, words: `${looked}${isTold ? "" : "; whether anything showed was not noted"}.` };
}

/**
 * Whether what was denied in a light was taken back by somebody: then nobody says that there was nothing to report.
 */
function isInDoubt({ record }: Described, light: string) {
  return listed(record, "denials/").some(
    ({ id, value }) => value.light === light && isTakenBack(record, `denials/${id}`),
  );
}

/**
 * The zones where what a look was for is usual, and that nobody could examine: of those it says nothing. Others that
 * were left out for the same reason are named with them, or they would seem to have been looked at.
 */
function notLookedAt(described: Described, { said, seeks = [], shows }: FunctionTest): string {
  const { plan, book, record } = described;
  if (!said?.startsWith(LOOKED)) return ""; // what looks into one place says nothing of the others
  const zones = plan.zones.filter(({ zone }) => zone !== WHOLE && (!shows?.length || shows.includes(zone)));
  const unseen = zones.flatMap((row) =>
    keysOf(row).flatMap((key) => {
      const { state, reason } = fieldValue(record, `zones/${key}`) ?? {};
      if (state !== "not-examined" || reason === NEVER || isAnyOpen(described, key)) return [];
      return { key, reason, isUsual: row.usual.some((term) => seeks.includes(term)) };
    }),
  );
  const reasons = unseen.flatMap(({ reason, isUsual }) => (isUsual ? [reason] : []));
  const left = unseen.filter(({ reason }) => reasons.includes(reason)).map(({ key }) => key);
  return left.length ? placesOf(plan, book, left).words : "";
}
