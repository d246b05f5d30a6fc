/**
 * A key of the plans' and the house's lists in their own words: the one place where histories, screens and values that
 * two people set find them. What no list of this device knows is spaced, since older plans had other keys.
 */
import { signal } from "@preact/signals-core";
import type { deniedInWords } from "./denied_words.ts";
import { type Described, termOf } from "./families.ts";
import type { Families, FindingValue, Size, TestValue } from "./fields.ts";
import { originWords, reasonInWords } from "./in_lists.ts";
import { howWords, lightOf } from "./lights.ts";
import { placesOf } from "./places.ts";
import { isNoneSeen, NONE_SEEN, zoneName } from "./progress.ts";
import { measureName, sizeInWords } from "./size_words.ts";
import { isNothingSeen, resultsOf } from "./test_results.ts";
import type { trialInWords } from "./trials.ts";
import type { Plan, PlanBook } from "./types.ts";
import { NOT_NOTED } from "./which_piece.ts";
import type { findingInWords } from "./wording.ts";
import { spaced, TEST_RESULTS } from "./words.ts";

/** The plan that a record was made with, and the book of the house's lists; null for what this device does not have. */
export type Lists = {
  plan: Plan | null;
  book: PlanBook | null;
  /** What a container is called, as far as it is known where this is read. */
  container?: (id: string) => string;
};
export const NO_LISTS: Lists = { plan: null, book: null };

type InSentences = {
  finding: typeof findingInWords;
  denial: typeof deniedInWords;
  trial: typeof trialInWords;
};
/** A signal, since a screen that stands already has to be drawn anew with them. */
const inSentences = signal<InSentences | null>(null);

/** From now on findings, denials and trials are told in sentences: what makes those weighs much, and comes later. */
export function tellInSentences(given: InSentences) {
  inSentences.value = given;
}

/** Nothing else of the record is known where one operation is told. */
const ALONE = { fields: {} } as Described["record"];

/** Plan and book with no record behind them; null if one of the two is not here. */
function described({ plan, book }: Lists): Described | null {
  return plan && book ? { plan, book, record: ALONE } : null;
}

/** "the spout", "the proper left ear"; "spout" without a plan. */
export function zoneWords({ plan, book }: Lists, key: string): string {
  return plan && book ? placesOf(plan, book, [key]).words : zoneName(key);
}

export function viewWords({ plan }: Lists, view: string): string {
  const words = plan?.views.find((row) => row.view === view)?.words ?? spaced(view);
  return words.split(";")[0] ?? words; // what follows is advice to whoever takes it
}

export function className({ book }: Lists, class_id: string): string {
  const plan = book?.plans[class_id];
  return book?.classes?.[class_id]?.words ?? plan?.name ?? spaced(class_id);
}

/** What a test is called: "the drawers", "ultraviolet". */
export function testName({ plan }: Lists, test: string): string {
  return plan?.tests.find((row) => row.test === test)?.name ?? spaced(test);
}

/** What came of trying something, or why it was not tried. */
export function testWords(lists: Lists, test: string, { result, why, note }: TestValue): string {
  const known = lists.plan?.tests.find((row) => row.test === test);
  const all = described(lists);
  const words = known && all && inSentences.value?.trial(all, known, { result, why, note }, "said");
  if (words) return isNothingSeen({ result, why }) ? `${words}, nothing seen` : words;
  const more = [why && reasonWords(lists, why), note].filter(Boolean).join(", ");
  // As the key under it says: what was weighed does not “work”.
  const keys = known && all ? resultsOf(known, all.book, result) : TEST_RESULTS;
  const came = (keys.find(([named]) => named === result)?.[1] ?? spaced(result)).toLowerCase();
  const isOwn = result === "works" && known?.said; // which says what was done
  return `${isOwn ? "" : `${testName(lists, test)}: `}${came}${more && `, ${more}`}`;
}

/** A finding of which only what it is and where is said. */
const BARE = {
  side: null,
  light: null,
  extent_mm: null,
  extent_mm_across: null,
  extent_percent: null,
  extent_count: null,
  extent_words: null,
  certainty: null,
  note: "",
};

/** What is measured, without the advice to whoever measures: "height without stopper". */
export function measureWords({ plan }: Lists, measure: string): string {
  const known = plan?.measures.find((row) => row.measure === measure);
  return known ? measureName(known) : spaced(measure);
}

/** A size with its unit, what it was measured with and the unit it was read in: "21.0 cm (8 1/4 in), without cover". */
export function sizeWords({ book }: Lists, { value, unit, basis, typed }: Size): string {
  if (value === null) return typed || "nothing";
  const read = /[a-z"']/i.test(typed ?? "") && `read off as ${typed}`;
  return [sizeInWords({ value, unit }, book?.print.sizes), basis, read].filter(Boolean).join(", ");
}

/** What a finding, or what was looked for, is called by itself. */
export function termWords({ book }: Lists, name: string): string {
  const term = book && termOf(book, name);
  return term?.noun ?? term?.says ?? spaced(name);
}

export function findingWords(lists: Lists, finding: FindingValue): string {
  const all = described(lists);
  const { severity } = finding;
  const words =
    all && inSentences.value
      ? inSentences.value.finding(all, finding)
      : `${termWords(lists, finding.term)} on ${zoneWords(lists, finding.zone)}`;
  const weight = lists.book?.words.severities.find((row) => row.severity === severity)?.words;
  const open = finding.piece === NOT_NOTED ? ", on which piece not noted" : "";
  return `${words}${open}, severity ${severity}${weight ? ` (${weight})` : ""}`;
}

/** A fault and its place, and nothing else of it: "a hole in the left foot". */
export function placedWords(lists: Lists, finding: FindingValue): string {
  const all = described(lists);
  const { term, zone } = finding;
  return all && inSentences.value
    ? inSentences.value.finding(all, { ...finding, ...BARE })
    : `${termWords(lists, term)} on ${zoneWords(lists, zone)}`;
}

/** "no chip seen on the rim under a lamp" */
export function denialWords(lists: Lists, { zone, term, light }: Families["denials"]): string {
  const all = described(lists);
  if (all && inSentences.value) return inSentences.value.denial(all, { terms: [term], light, zones: [zone] });
  return `no ${termWords(lists, term)} on ${zoneWords(lists, zone)}, ${lightWords(lists, light)}`;
}

/** How something was looked at: "under a lamp". */
export function lightWords({ book }: Lists, light: string): string {
  return book ? howWords(lightOf(book, light)) : spaced(light);
}

/** Why something was not done; `key` is the zone that it is said of. */
export function reasonWords({ plan, book }: Lists, reason: string, key = ""): string {
  const [zone] = key.split("/");
  if (
    isNoneSeen(
      plan?.zones.find((row) => row.zone === zone),
      { reason },
    )
  )
    return NONE_SEEN;
  return book ? reasonInWords(book, reason) : spaced(reason);
}

export function originalityWords({ book }: Lists, origin: string): string {
  return book ? originWords(book, origin) : spaced(origin);
}

export function evidenceWords({ book }: Lists, evidence: string): string {
  return book?.words.evidences.find((row) => row.evidence === evidence)?.words ?? spaced(evidence);
}
