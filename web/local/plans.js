/**
 * Plans on this device. A record is walked with the version of the plan that it was made with.
 *
 * @import { Plan, PlanBook, RecordCopy } from "../job/types.js"
 */
import { wholePlan } from "../job/plan.js";
import { valueOf } from "../job/record.js";
import { remember, setting } from "./database.js";
import { tell } from "./news.js";

/** @returns {Promise<PlanBook|null>} */
export async function planBook() {
  return (await setting("plans"))?.book ?? null;
}

export async function plansTag() {
  return (await setting("plans"))?.tag ?? null;
}

/** Store the plans; versions that were known before stay. @param {PlanBook} book @param {string|null} tag */
export async function storePlans(book, tag) {
  const older = (await setting("older plans")) ?? {};
  for (const plan of Object.values(book.plans)) older[`${plan.class_id} ${plan.version}`] = plan;
  await remember("older plans", older);
  await remember("plans", { book, tag });
  tell();
}

/** Keep one version of a plan that a record was made with. @param {Plan} plan */
export async function storeOlderPlan(plan) {
  const older = (await setting("older plans")) ?? {};
  await remember("older plans", { ...older, [`${plan.class_id} ${plan.version}`]: plan });
}

/**
 * Reads the plans once, to find the plan of many records. @returns {Promise<(record: RecordCopy) => Plan|null>}
 */
export async function planFinder() {
  const [older, book] = await Promise.all([setting("older plans"), planBook()]);
  return (record) => {
    const class_id = valueOf(record, "class_id");
    if (!class_id) return null;
    const found = older?.[`${class_id} ${valueOf(record, "plan_version")}`] ?? book?.plans[class_id];
    return found ? wholePlan(found) : null;
  };
}

/** @param {RecordCopy} record @returns {Promise<Plan|null>} */
export async function planFor(record) {
  return (await planFinder())(record);
}
