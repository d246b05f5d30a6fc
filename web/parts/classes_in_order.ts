/** The classes as they are chosen from. */

import type { Plan, PlanBook } from "../job/types.ts";
import { CLASSES_WITHOUT_PLAN } from "../job/words.ts";
import { shortName } from "./class_drawing.tsx";

/** By the name on the key, and last of all the one for what has no class. */
export function inOrder(book: PlanBook) {
  const last = (plan: Plan) => Number(plan.class_id === CLASSES_WITHOUT_PLAN);
  return Object.values(book.plans).sort(
    (a, b) => last(a) - last(b) || shortName(a).localeCompare(shortName(b)),
  );
}
