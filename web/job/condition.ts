/**
 * Overall condition: one word for an item, computed from its findings and held down by the worst of them.
 *
 * A serious fault in a key zone cannot be averaged away, and what nobody looked at is never taken as good. The
 * word compares within a class only and is never published without its paragraph. Points, steps and ceilings are
 * this house's proposal; the examples in `fixtures/condition.json` are worked from the same proposal.
 */

import { checkOf } from "./compared.ts";
import { spelled } from "./english.ts";
import type { FindingValue } from "./fields.ts";
import type { RecordGrade } from "./operations.ts";
import { isOnPieceAway } from "./piece_away.ts";
import { asked, keysOf } from "./progress.ts";
import type { FunctionTest, Plan, RecordCopy, Zone } from "./types.ts";
import { gravestOf, sidesOf } from "./unsettled.ts";
import { lightsOnRecord } from "./untried.ts";
import { fieldValue, findingsOn, listed } from "./values.ts";
import { isLater } from "./with_owner.ts";
import { firstUpper, spaced } from "./words.ts";

export type Grade = RecordGrade["computed"];

/** From best to worst, with the index up to which a word is where the reckoning starts. */
const STEPS: [Grade, number][] = [
  ["excellent", 1],
  ["very good", 5],
  ["good", 12],
  ["fair", 24],
  ["poor", 40],
  ["as found", Infinity],
];
const POINTS = [0, 1, 4, 10, 20];
const MOST = 20;
const WEIGHTS: Record<string, number> = { key: 4, supporting: 2, minor: 1 };
const LEAST_COVERAGE = 0.7;
const ROUNDING = 1e-9; // what sums of weights are off by
/** The box it came in is no part of the thing: it lowers nothing, though moths in it hold the item. */
const PACKAGING = "packaging";
/** What was done to a key zone and cannot be undone: not better than good. */
const CHANGED = new Set([
  "replaced-part",
  "repainted",
  "refinished",
  "trimmed",
  "converted",
  "rebound",
  "relined",
  "laid-down",
  "re-covered",
  "associated-part",
]);

const OUTLINE = "outline"; // the whole of it, or some pieces
/** What stands in place of a main part, by what is recorded of its origin. */
const OF_ANOTHER = new Set(["replaced", "later-added", "associated", "married"]);

/** What a key zone is not whole with, however small it is: nobody would call it excellent. Source: from memory. */
const BROKEN = new Set([
  ...["chip", "fleabite", "crack", "hairline", "split", "break", "tear", "hole", "loss"],
  ...["detached-part", "missing-part", "stone-missing", "leaf-missing"],
]);

export interface Overall {
  /** null if it is not graded */
  word: Grade | null;
  /** 0 is perfect, 100 as bad as can be; unrounded */
  index: number;
  /** the share of the weight that was examined, 0 to 1 */
  coverage: number;
  /** whether a key zone was not examined */
  so_far: boolean;
  /** why it is not graded */
  not_graded: "held" | "too little examined" | "differed since" | null;
  /** what holds the word down, the lowest first */
  because: Because[];
}

/** What holds a word down, as a clause, with what was found that does, and what was tried. */
export type Because = { words: string; found: FindingValue[]; tried?: FunctionTest[] };

/** The overall condition of an item by its plan. The order of entry never changes it. */
export function overallCondition(plan: Plan, record: RecordCopy): Overall {
  const ruled = plan.zones.map((zone) => seenOf(zone, record)).filter((zone) => !zone.not_applicable);
  const every = [...ruled, ...beyondPlan(plan, record)];
  const zones = every.filter((zone) => zone.name !== PACKAGING);
  const weight = total(zones.map((zone) => zone.weight));
  const examined = zones.filter((zone) => zone.examined);
  const looked = total(examined.map((zone) => zone.weight));
  const index = looked
    ? (100 * total(examined.map((zone) => zone.weight * burden(zone.findings)))) / (MOST * looked)
    : 0;
  const coverage = weight ? looked / weight : 0;
  const so_far = zones.some((zone) => zone.key && !zone.examined);
  const held = every.some(({ isApart }) => isApart);
  if (held || coverage < LEAST_COVERAGE) {
    return {
      word: null,
      index,
      coverage,
      so_far,
      not_graded: held ? "held" : "too little examined",
      because: [],
    };
  }
  const start = STEPS.findIndex(([, upTo]) => index <= upTo);
  const ceilings = [...ceilingsOf(zones, so_far), ...besideFindings(plan, record, zones)].sort(
    (a, b) => b.step - a.step,
  );
  const lowest = Math.max(start, ...ceilings.map(({ step }) => step));
  const because = ceilings
    .filter(({ step }) => step >= start && step > 0)
    .map(({ step: _, ...because }) => because);
  return { word: STEPS[lowest]?.[0] ?? null, index, coverage, so_far, not_graded: null, because };
}

/**
 * The word that stands: the computed one, or the valuer's, one step from it and with a reason. A valuer's word rests
 * on the computed one it was moved from: when that changes, the computed word stands again until somebody looks.
 */
export function gradeOf(
  plan: Plan,
  said: RecordCopy,
): Overall & { computed: Grade | null; moved: boolean; reason: string; stale: boolean } {
  const record = gravestOf(said);
  const seen = overallCondition(plan, record);
  const isOpen = seen.word && differedSince(record);
  const overall = isOpen
    ? { ...seen, word: null, not_graded: "differed since" as const, because: [] }
    : asTried(plan, record, seen);
  const owns = [record, ...sidesOf(record)].flatMap((side) => fieldValue(side, "grade") ?? []);
  const isNear = (own: (typeof owns)[number]) =>
    own.word && stepsFrom(overall.word).includes(own.word) && own.computed === overall.word;
  // Of two words that valuers gave, and nobody has settled, the worse counts; one that does not hold is the computed.
  const [own] = owns.sort(
    (a, b) => stepOfWord(isNear(b) ? b.word : overall.word) - stepOfWord(isNear(a) ? a.word : overall.word),
  );
  const near = own && isNear(own);
  return {
    ...overall,
    computed: overall.word,
    word: near ? own.word : overall.word,
    moved: Boolean(near),
    reason: near ? own.reason : "",
    stale: Boolean(own?.word && !near),
  };
}

/** What should run and was not tried was not wholly examined, however it looks: its word goes so far and no further. */
function asTried(plan: Plan, record: RecordCopy, seen: Overall): Overall {
  if (!seen.word || !zonesUntried(plan, record).length) return seen;
  const isHeld = stepOfWord(seen.word) <= stepOfWord(UNTRIED);
  const untried: Because = { words: "what should run was not tried", found: [] };
  const because = isHeld ? [untried, ...seen.because] : seen.because;
  return { ...seen, word: isHeld ? UNTRIED : seen.word, so_far: true, because };
}

/** Whether it differed from its pictures when it was checked in, and nobody has recorded since what is found on it. */
export function differedSince(record: RecordCopy): boolean {
  const compared = checkOf(record);
  if (compared?.value.state !== "differs") return false;
  return !listed(record, "findings/").some(({ id, value }) => {
    const found = record.fields[`findings/${id}`];
    return !value.withdrawn && found && isLater(found, compared.set);
  });
}

/** The best word of what should run, and was not tried: that of what has a key zone which was not examined. */
const UNTRIED: Grade = "good";
/** The fault of what should run, and does not. */
const STOPS = "stops";
/** What says by itself that it does not run. */
const NOT_RUNNING = new Set(["seized", "stops", "no-action"]);

/** What does not go, by a trial or by a finding however slight, and what differed since, hold the word down. */
function besideFindings(plan: Plan, record: RecordCopy, zones: ReturnType<typeof seenOf>[]): Ceiling[] {
  const failed = (plan.tests ?? []).filter(({ test, rules_out }) => {
    const result = fieldValue(record, `tests/${test}`)?.result;
    const isFailed = result === "no-response" || result === "works-in-part";
    return isFailed && rules_out?.terms.some((term) => NOT_RUNNING.has(term));
  });
  const found = zones
    .flatMap(({ findings }) => findings)
    .filter(({ term, severity }) => NOT_RUNNING.has(term) && severity > 0);
  const main = [OUTLINE, ...zones.filter(({ key }) => key).map(({ name }) => name)];
  const changed = listed(record, "origins/").some(
    ({ id, value }) => OF_ANOTHER.has(value.origin ?? "") && main.includes(id.split("/")[0] ?? ""),
  );
  const differed = checkOf(record)?.value.state === "differs";
  const rules: Rule[] = [
    ["good", found, "something does not run"],
    ["good", !found.length && failed.length > 0, "it did not work, or not wholly, when it was tried", failed],
    ["good", changed, "a main part is not what it was first made with"],
    ["very good", differed, "it differed when it was checked in"],
  ];
  return thatHold(rules);
}

/**
 * What should run, or be looked through, and was never tried: how it looks says nothing of that. What nobody could see,
 * such as a sealed movement, is not examined, and what was found not to run is known.
 */
export function zonesUntried(plan: Plan, record: RecordCopy): string[] {
  const trials = (plan.tests ?? []).filter(
    ({ rules_out, so_far }) => rules_out?.terms.includes(STOPS) || so_far,
  );
  const used = new Set(listed(record, "denials/").map(({ value }) => !value.withdrawn && value.light));
  // Whoever looked for a fault with the light of a trial has looked so, unless it is said that nobody did.
  const isTried = ({ test, so_far, lights = [] }: FunctionTest) => {
    const made = fieldValue(record, `tests/${test}`);
    return made ? made.result !== "not-done" : Boolean(so_far) && lights.some((light) => used.has(light));
  };
  const left = (plan.questions ?? []).flatMap(({ leaves_open = [] }) => leaves_open);
  const works = left.filter(({ works }) => works);
  const zones = new Set([...trials, ...works].flatMap(({ of = [] }) => of));
  return [...zones].filter((name) => {
    const zone = plan.zones.find((row) => row.zone === name);
    if (!zone || !seenOf(zone, record).examined || seenOf(zone, record).not_applicable) return false;
    if (seenOf(zone, record).findings.some(({ term }) => NOT_RUNNING.has(term))) return false;
    return !trials.filter(({ of = [] }) => of.includes(name)).some(isTried);
  });
}

/** How much of what counts on a thing was looked at, as a sentence; in tenths, and never more than it was. */
export function lookedWords(coverage: number): string {
  const tenths = Math.floor(10 * coverage + ROUNDING);
  if (tenths >= 10) return "Each zone that counts was looked at";
  if (tenths === 0)
    return coverage ? "Less than a tenth of what counts was looked at" : "Nothing was looked at";
  return `${tenths === 1 ? "A tenth" : `${firstUpper(spelled(tenths))} tenths`} of what counts was looked at`;
}

/**
 * The looks of its class that nobody took: a picture of which each zone was seen in its frame by a lamp was not seen
 * from the side, nor from behind. The word does not go by them, so they stand beside it.
 */
export function looksLeft(plan: Plan, record: RecordCopy): string[] {
  const used = lightsOnRecord(record);
  return asked(plan, record, plan.tests)
    .filter(({ test, looks }) => {
      const made = fieldValue(record, `tests/${test}`)?.result;
      return looks && !used.has(looks) && (!made || made === "not-done");
    })
    .map(({ test, name }) => name ?? spaced(test));
}

/** The word at which the count of faults alone arrives, and up to where it is that one. */
export function stepOf(index: number): { word: Grade; upTo: number } {
  const [word, upTo] = STEPS.find(([, most]) => index <= most) ?? ["as found", Infinity];
  return { word, upTo };
}

/** The words one step from a word. */
export function stepsFrom(word: Grade | null): Grade[] {
  const here = stepOfWord(word);
  return here < 0 ? [] : STEPS.filter((_, step) => Math.abs(step - here) === 1).map(([name]) => name);
}

/** What may go on, does, or can spread to others, whichever is the worst of it; what is good so far has no risk. */
export type Stability = { level: string; risk: string; because: FindingValue[] };

/**
 * Whether it is safe to keep, move and show, which is another question than what a buyer gets: four levels, as
 * surveys of collections use them (good, fair, poor, unacceptable).
 */
export function stabilityOf(record: RecordCopy): Stability {
  const live = listed(record, "findings/")
    .map(({ value }) => value)
    .filter((value) => !value.withdrawn);
  const levels = [
    ["Q", "unacceptable", "can spread to other things, or harm them"],
    ["P", "poor", "goes on by itself"],
    ["w", "fair", "may go on"],
  ] as const;
  for (const [activity, level, risk] of levels) {
    const because = live.filter((value) => value.activity === activity);
    if (because.length) return { level, risk, because };
  }
  return { level: "good", risk: "", because: [] };
}

/**
 * Zones of which the plan knows nothing, or no longer, and on which something was found: what is printed of them counts
 * as on a supporting zone.
 */
function beyondPlan(plan: Plan, record: RecordCopy): ReturnType<typeof seenOf>[] {
  const known = new Set(plan.zones.flatMap((zone) => [zone.zone, ...keysOf(zone)]));
  const found = listed(record, "findings/").filter(({ value }) => !value.withdrawn && !known.has(value.zone));
  return [...new Set(found.map(({ value }) => value.zone))]
    .map((zone) => ({ ...seenOf({ zone, weight: "supporting", members: [] }, record), examined: true }))
    .filter(({ findings, isApart }) => findings.length > 0 || isApart);
}

/** What is known of one zone; a pair or a numbered set is one zone, with the findings of all its members. */
function seenOf(zone: Pick<Zone, "zone" | "weight" | "members">, record: RecordCopy) {
  const keys = keysOf(zone);
  const states = keys
    .map((key) => fieldValue(record, `zones/${key}`))
    .filter((state) => state?.reason !== "not-applicable");
  // What stands on the bare name of a zone that has members, as another plan had it, is on that zone all the same.
  const found = [...new Set([...keys, zone.zone])].map((key) =>
    findingsOn(record, key).map(({ value }) => value),
  );
  return {
    name: zone.zone,
    key: zone.weight === "key",
    weight: WEIGHTS[zone.weight] ?? 0,
    not_applicable: states.length === 0,
    examined: states.every((state) => state?.state === "clear" || state?.state === "finding"),
    // What only the owner says is printed nowhere, so no word rests on it; it is kept apart for it all the same. Nor
    // does one rest on what went back.
    findings: onMembers(
      found.map((values) =>
        values.filter((value) => value.certainty !== "told" && !isOnPieceAway(record, value)),
      ),
    ),
    isApart: found.flat().some(({ activity }) => activity === "Q"),
  };
}

/** The findings of all members; what was found alike on several of them, such as both eyes stiff, is one finding. */
function onMembers(members: FindingValue[][]): FindingValue[] {
  return members.flatMap((found, at) =>
    found.filter(
      (value) => !members.slice(0, at).some((before) => before.some((finding) => isAlike(finding, value))),
    ),
  );
}

function isAlike(a: FindingValue, b: FindingValue) {
  const apart = ["zone", "side"];
  const names = new Set([...Object.keys(a), ...Object.keys(b)].filter((name) => !apart.includes(name)));
  return [...names].every((name) => a[name as keyof FindingValue] === b[name as keyof FindingValue]);
}

/** The worst finding counts whole and the others half. */
function burden(findings: { severity: number }[]) {
  const points = findings.map(({ severity }) => POINTS[severity] ?? MOST).sort((a, b) => b - a);
  return Math.min(MOST, (points[0] ?? 0) + total(points.slice(1)) / 2);
}

type Ceiling = Because & { step: number };
/** The best word while something holds, or while any of these were found, and what that is. */
type Rule = [Grade, FindingValue[] | boolean, string, FunctionTest[]?];

function ceilingsOf(zones: ReturnType<typeof seenOf>[], so_far: boolean): Ceiling[] {
  const some = (of: { key?: boolean; weight?: number }, holds: (finding: FindingValue) => boolean) =>
    zones
      .filter(({ key, weight }) => (of.key ?? key) === key && (of.weight ?? weight) === weight)
      .flatMap(({ findings }) => findings.filter(holds).sort(byWeight));
  const [anywhere, main, supporting] = [{}, { key: true }, { weight: WEIGHTS.supporting }];
  const moderate = some(main, ({ severity }) => severity === 2);
  const several = moderate.length > 1;
  const rules: Rule[] = [
    ["very good", !several && some(anywhere, ({ severity }) => severity === 2), "it has a moderate fault"],
    [
      "very good",
      some(main, ({ term, severity }) => severity === 1 && BROKEN.has(term)),
      "a main part is not whole",
    ],
    ["good", several && moderate, "its main parts have more than one moderate fault"],
    ["good", some(supporting, ({ severity }) => severity === 3), "a lesser part has a serious fault"],
    ["fair", some(main, ({ severity }) => severity === 3), "a main part has a serious fault"],
    ["fair", some(supporting, ({ severity }) => severity === 4), "a lesser part has a severe fault"],
    ["poor", some(main, ({ severity }) => severity === 4), "a main part has a severe fault"],
    ["fair", some(anywhere, ({ activity }) => activity === "P"), "a fault goes on by itself"],
    ["good", some(main, ({ term }) => CHANGED.has(term)), "a main part was changed since it was made"],
    ["good", so_far, "a main part was not examined"],
  ];
  return thatHold(rules);
}

/** The order of entry says nothing. */
function byWeight(a: FindingValue, b: FindingValue) {
  const written = ({ term, activity }: FindingValue) => `${term} ${activity}`;
  return b.severity - a.severity || written(a).localeCompare(written(b));
}

function thatHold(rules: Rule[]): Ceiling[] {
  return rules.flatMap(([word, holds, words, tried]) => {
    const found = Array.isArray(holds) ? holds : [];
    const isHeld = Array.isArray(holds) ? found.length > 0 : holds;
    return isHeld ? [{ step: stepOfWord(word), words, found, ...(tried && { tried }) }] : [];
  });
}

/** Where a word stands from best to worst; below 0 for none. */
function stepOfWord(word: Grade | null) {
  return STEPS.findIndex(([name]) => name === word);
}

function total(numbers: number[]) {
  return numbers.reduce((sum, number) => sum + number, 0);
}
