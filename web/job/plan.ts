/**
 * A plan as every screen expects it. A record is walked with the plan it was made with, and that plan may have been
 * written before plans said all that they say now: what it does not say is empty, never guessed.
 */
import type {
  FunctionTest,
  Measure,
  Negative,
  Plan,
  PlanBook,
  Print,
  Question,
  Term,
  Zone,
} from "./types.ts";

/** A plan as it may have been written: what was added since can be missing. */
export type WrittenPlan = Omit<
  Plan,
  "called" | "scale" | "zones" | "tests" | "measures" | "negatives" | "questions"
> & {
  called?: Plan["called"];
  scale?: Plan["scale"];
  zones: (Omit<Zone, "optional" | "holds"> & Partial<Zone>)[];
  tests: (Pick<FunctionTest, "test" | "how" | "never_when"> & Partial<FunctionTest>)[];
  measures: (Pick<Measure, "measure" | "words"> & Partial<Measure>)[];
  negatives: (Pick<Negative, "words" | "needs"> & Partial<Negative>)[];
  questions: (string | (Pick<Question, "question"> & Partial<Question>))[];
};

const UNSAID_OF_TEST = {
  said: null,
  name: null,
  undone: null,
  failed: null,
  in_part: null,
  tried: null,
  rules_out: null,
  looks: null,
  measures: [],
  lights: [],
  stopped_by: [],
};

export function wholePlan(plan: WrittenPlan): Plan {
  return {
    ...plan,
    called: plan.called ?? [],
    scale: plan.scale ?? [],
    zones: plan.zones.map((zone) => ({ optional: false, holds: [], ...zone })),
    tests: plan.tests.map((test) => ({ ...UNSAID_OF_TEST, ...test })),
    measures: plan.measures.map((measure) => ({
      unit: /gram/.test(measure.words) ? "g" : "mm",
      most: Infinity,
      print: null,
      bases: [],
      troy: false,
      ...measure,
    })),
    negatives: plan.negatives.map((negative, index) => ({
      negative: `negative-${index + 1}`,
      zones: [],
      terms: [],
      lights: [],
      tests: [],
      stopped_by: [],
      ...negative,
    })),
    questions: plan.questions.map((question) => ({
      zones: [],
      terms: [],
      anywhere: [],
      aside: [],
      tests: [],
      measures: [],
      facts: [],
      statements: [],
      ...(typeof question === "string" ? { question } : question),
    })),
  };
}

const UNSAID_OF_TERM = {
  verbs: null,
  article: "a",
  plural: null,
  prep: "to",
  sought: null,
  absent: null,
  measured: null,
  sense: null,
  makes: null,
  slight: false,
  whole: false,
  spread: false,
  noun_first: false,
  note_names: false,
  times: false,
  origins: [],
  covers: [],
} satisfies Partial<Term>;
const NOTHING_PRINTED: Print = {
  zones: [],
  members: [],
  sides: [],
  sizes: { inches: true, troy_ounces: true },
  english: {
    takes_an: [],
    takes_a: [],
    letters_an: "",
    one_thing: [],
    one_thing_endings: [],
    several: [],
    keep_capital: [],
    stops_a_name: [],
    hedges: [],
  },
};

type WrittenBook = Omit<PlanBook, "print" | "classes" | "views"> & Partial<PlanBook>;

/** A book of plans that was stored before books said all that they say now. */
export function wholeBook(book: WrittenBook): PlanBook {
  const terms = book.vocabulary.terms.map((term) => ({ ...UNSAID_OF_TERM, ...term }));
  const { print = NOTHING_PRINTED, classes = {}, views = [] } = book;
  return { ...book, vocabulary: { ...book.vocabulary, terms }, print, classes, views };
}
