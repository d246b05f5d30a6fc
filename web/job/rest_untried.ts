/** What of a thing's trials nobody spoke of, each with the reason for which it is left. */
import { isForbiddenBeside } from "./forbidden_tests.ts";
import { asked, isAwaited } from "./progress.ts";
import { withdrawnBy } from "./stopped.ts";
import type { ItemRecord, Plan } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

export const NO_TIME = "no-time";
/** A caution is of people or of the thing: its own row says which. */
const HELD_BACK = "held back as a precaution";

/**
 * Trials that somebody is to make and nobody gave a result. A look by whose light something was denied was made: what
 * it showed is for whoever looked to say.
 */
export function restUntried(plan: Plan, item: ItemRecord): { test: string; why: string }[] {
  const denied = listed(item, "denials/").flatMap(({ value }) => (value.withdrawn ? [] : value.light));
  return asked(plan, item, plan.tests)
    .filter((one) => isAwaited(one) && !fieldValue(item, `tests/${one.test}`))
    .filter(({ looks }) => !(looks && denied.includes(looks)))
    .map((one) => {
      if (withdrawnBy(one, item).length) return { test: one.test, why: HELD_BACK };
      return { test: one.test, why: isForbiddenBeside(plan, one, item) ? "unsafe-object" : NO_TIME };
    });
}
