/** Which trials answer a question: those that it names, and those that failed where its fault would have shown. */

import { isAsked } from "./asked_zones.ts";
import { isAmong } from "./bears_on.ts";
import type { Described } from "./families.ts";
import { isSweptUnshown } from "./sight.ts";
import { zonesTried } from "./trials.ts";
import type { FunctionTest, Question } from "./types.ts";
import { fieldValue } from "./values.ts";

/**
 * Whether a test is asked for; of zones of which a question asks all, whatever was tried on them is told. One that
 * failed is told where a fault that it could not rule out would be, but for what is asked of what is original.
 */
export function isTrialOf(described: Described, failed: FunctionTest[], question: Question, about: string) {
  const { tests } = described.plan;
  if (question.tests.includes(about)) return true;
  if (isOfSwept(described, question, about)) return true;
  const fault = failed.find(({ test }) => test === about);
  // That somebody looked with a light, or did not, is told wherever it bears on what is asked.
  const isLook = tests.some(({ test, looks }) => test === about && looks);
  if ((fault || isLook) && question.told_tests?.includes(about)) return true;
  if (fault && !question.unless_origin && isFaultOf(described, question, fault)) return true;
  if (!question.tests.length || question.terms.length) return false;
  const zones = tests.find(({ test }) => test === about)?.of ?? [];
  return zones.length > 0 && zones.every((zone) => question.zones.includes(zone));
}

/** Whether a test was not made that alone shows a zone that is asked about: a tick among others says nothing of it. */
function isOfSwept({ plan, record }: Described, question: Question, about: string) {
  const shown = plan.tests.find(({ test }) => test === about)?.shows ?? [];
  return (
    fieldValue(record, `tests/${about}`)?.result === "not-done" &&
    shown.some((zone) => question.zones.includes(zone) && isSweptUnshown(plan, record, zone))
  );
}

/** Whether a test tells of a fault that a question names, or of any on zones of which it names none. */
function isFaultOf({ plan, book }: Described, question: Question, test: FunctionTest) {
  const zones = zonesTried(test);
  const named = [...question.terms, ...question.anywhere];
  const isNamed = test.rules_out?.terms.some((term) => isAmong(book, named, term));
  // What was not wholly seen may have any fault.
  if (test.shows?.length) return test.shows.some((zone) => isAsked(plan, question, zone));
  if (!zones.length) return isNamed;
  return (isNamed || !question.terms.length) && zones.some((zone) => isAsked(plan, question, zone));
}
