/** Plans on this device. A record is walked with the version of the plan that it was made with. */

import { wholePlan } from "../job/plan.ts";
import type { Plan, PlanBook, RecordCopy } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { remember, setting } from "./database.ts";
import { tell } from "./news.ts";

export async function planBook(): Promise<PlanBook | null> {
  return (await setting("plans"))?.book ?? null;
}

export async function plansTag() {
  return (await setting("plans"))?.tag ?? null;
}

/** Store the plans; versions that were known before stay. */
export async function storePlans(book: PlanBook, tag: string | null) {
  const older = (await setting("older plans")) ?? {};
  for (const plan of Object.values(book.plans)) older[`${plan.class_id} ${plan.version}`] = plan;
  await remember("older plans", older);
  await remember("plans", { book, tag });
  tell();
}

/** Keep one version of a plan that a record was made with. */
export async function storeOlderPlan(plan: Plan) {
  const older = (await setting("older plans")) ?? {};
  await remember("older plans", { ...older, [`${plan.class_id} ${plan.version}`]: plan });
}

/** Reads the plans once, to find the plan of many records. */
export async function planFinder(): Promise<(record: RecordCopy) => Plan | null> {
  const [older, book] = await Promise.all([setting("older plans"), planBook()]);
  return (record) => {
    const class_id = fieldValue(record, "class_id");
    if (!class_id) return null;
    const found = older?.[`${class_id} ${fieldValue(record, "plan_version")}`] ?? book?.plans[class_id];
    return found ? wholePlan(found) : null;
  };
}

export async function planFor(record: RecordCopy): Promise<Plan | null> {
  return (await planFinder())(record);
}
