/** The tests of a plan as one thing has them: of what it has none of, nobody says that it was not tried. */
import { mayBeGone } from "./gone.ts";
import { planOfKind } from "./kind_of.ts";
import type { Plan, RecordCopy } from "./types.ts";

/** Plans with the words for a kind of thing, by which of their tests speak otherwise, so that each is made once. */
const fitted = new WeakMap<Plan, Map<string, Plan>>();

/**
 * The plan of such a thing with each test in the words for one that has none of some zones: a clock with no weights.
 */
export function planFor(whole: Plan, record: RecordCopy): Plan {
  const plan = ofItsZones(planOfKind(whole, record));
  // A kind has none of the zones that its plan leaves out: a string of pearls has no claws.
  const isOfOthers = (id: string) => plan.kind !== undefined && plan.zones.every(({ zone }) => zone !== id);
  const wordsOf = plan.tests.map(({ where_none = [] }) =>
    where_none.findIndex(({ none }) =>
      none.every((zone) => isOfOthers(zone) || mayBeGone({ plan, record }, zone)),
    ),
  );
  if (wordsOf.every((at) => at < 0)) return plan;
  const made = fitted.get(plan) ?? new Map<string, Plan>();
  fitted.set(plan, made);
  const key = wordsOf.join();
  const tests = plan.tests.map((test, at) => {
    const { none: _, ...words } = test.where_none?.[wordsOf[at] ?? -1] ?? { none: [] };
    const given = Object.entries(words).filter(([, word]) => word !== null);
    return given.length ? { ...test, ...Object.fromEntries(given), in_general: test } : test;
  });
  const known = made.get(key) ?? { ...plan, tests };
  made.set(key, known);
  return known;
}

const ofKinds = new WeakMap<Plan, Plan>();

/** What is asked and denied of zones that only other kinds of things have is none of this one's. */
function ofItsZones(plan: Plan): Plan {
  if (!plan.kinds?.length) return plan;
  const isHere = (id: string) => plan.zones.some(({ zone }) => zone === id);
  const known = ofKinds.get(plan) ?? {
    ...plan,
    questions: plan.questions.map((one) => ({ ...one, zones: one.zones.filter(isHere) })),
    negatives: plan.negatives.map((one) => ({ ...one, zones: one.zones.filter(isHere) })),
  };
  ofKinds.set(plan, known);
  return known;
}
