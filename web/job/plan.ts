/**
 * A plan as every screen expects it. A record is walked with the plan it was made with, and that plan may have been
 * written before plans said all that they say now: what it does not say is empty, never guessed.
 */
import type { FunctionTest, Measure, Negative, Plan, Question, Zone } from "./types.ts";

/** A plan as it may have been written: what was added since can be missing. */
export type WrittenPlan = Omit<Plan, "scale" | "zones" | "tests" | "measures" | "negatives" | "questions"> & {
  scale?: Plan["scale"];
  zones: (Omit<Zone, "optional"> & { optional?: boolean })[];
  tests: (Omit<FunctionTest, "said" | "lights" | "stopped_by"> & Partial<FunctionTest>)[];
  measures: (Omit<Measure, "unit" | "most"> & Partial<Measure>)[];
  negatives: (Pick<Negative, "words" | "needs"> & Partial<Negative>)[];
  questions: (string | (Pick<Question, "question"> & Partial<Question>))[];
};

export function wholePlan(plan: WrittenPlan): Plan {
  return {
    ...plan,
    scale: plan.scale ?? [],
    zones: plan.zones.map((zone) => ({ optional: false, ...zone })),
    tests: plan.tests.map((test) => ({ said: null, lights: [], stopped_by: [], ...test })),
    measures: plan.measures.map((measure) => ({
      unit: /gram/.test(measure.words) ? "g" : "mm",
      most: Infinity,
      ...measure,
    })),
    negatives: plan.negatives.map((negative, index) => ({
      negative: `negative-${index + 1}`,
      zones: [],
      terms: [],
      lights: [],
      stopped_by: [],
      ...negative,
    })),
    questions: plan.questions.map((question) => ({
      zones: [],
      terms: [],
      tests: [],
      measures: [],
      facts: [],
      ...(typeof question === "string" ? { question } : question),
    })),
  };
}
