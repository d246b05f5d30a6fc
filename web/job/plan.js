/**
 * A plan as every screen expects it. A record is walked with the plan it was made with, and that plan may have been
 * written before plans said all that they say now: what it does not say is empty, never guessed.
 *
 * @import { Plan } from "./types.js"
 */

/** @param {any} plan @returns {Plan} */
export function wholePlan(plan) {
  return {
    ...plan,
    scale: plan.scale ?? [],
    zones: plan.zones.map((/** @type {any} */ zone) => ({ optional: false, ...zone })),
    tests: plan.tests.map((/** @type {any} */ test) => ({ said: null, ...test })),
    measures: plan.measures.map((/** @type {any} */ measure) => ({ unit: /gram/.test(measure.words) ? "g" : "mm", most: Infinity, ...measure })),
    negatives: plan.negatives.map((/** @type {any} */ negative, /** @type {number} */ place) => ({ negative: `negative-${place + 1}`, zones: [], terms: [], lights: [], ...negative })),
    questions: plan.questions.map((/** @type {any} */ question) => ({ zones: [], terms: [], tests: [], measures: [], facts: [], ...(typeof question === "string" ? { question } : question) })),
  };
}
