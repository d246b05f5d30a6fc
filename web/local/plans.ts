/** Plans on this device. A record is walked with the version of the plan that it was made with. */

import type { Plan, PlanBook } from "../job/types.ts";
import { write } from "./changes.ts";
import { plans } from "./memory.ts";

/** What the office called the plans that are here, so that they come again only when they have changed. */
export function plansTag(): string | null {
  return plans.peek()?.tag ?? null;
}

function nameOf({ class_id, version }: Plan) {
  return `${class_id} ${version}`;
}

/** Store the plans; versions that were known before stay. */
export function storePlans(book: PlanBook, tag: string | null) {
  return write(["setting"], async (tx) => {
    const older = { ...(await tx.setting("older plans")) };
    for (const plan of Object.values(book.plans)) older[nameOf(plan)] = plan;
    await tx.remember("older plans", older);
    await tx.remember("plans", { book, tag });
  });
}

/** Keep one version of a plan that a record was made with. */
export function storeOlderPlan(plan: Plan) {
  return write(["setting"], async (tx) => {
    await tx.remember("older plans", { ...(await tx.setting("older plans")), [nameOf(plan)]: plan });
  });
}
