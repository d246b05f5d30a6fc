/** The plans on this device: the book as it is now, and the version with which a record was made. */
import { thingName } from "../job/custody.ts";
import { planOfKind } from "../job/kind_of.ts";
import type { Lists } from "../job/list_words.ts";
import { wholeBook, wholePlan } from "../job/plan.ts";
import type { Plan, PlanBook, RecordCopy } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { isLoaded, olderPlans, plans, record as recordHere } from "./memory.ts";

export function planBook(): PlanBook | null | undefined {
  if (!isLoaded.value) return undefined;
  const stored = plans.value?.book;
  return stored ? whole(wholeBooks, stored, wholeBook) : null;
}

/** What the row of a hazard is called; "" if this device does not have it. */
export function rowName(hazard: string) {
  return planBook()?.cautions?.cautions.find((row) => row.hazard === hazard)?.name ?? "";
}

/** What a class is called on its key, and one that stands on none by the name of its plan; "" if it is not here. */
export function className(class_id: string) {
  const book = planBook();
  const plan = book?.plans[class_id];
  return plan ? (book.classes[class_id]?.words ?? plan.name) : "";
}

/** A class, and the version of its plan with which a record was made. */
export type PlanName = { class_id: string; plan_version: string };

export function planNameOf(item: RecordCopy): PlanName {
  return {
    class_id: fieldValue(item, "class_id") ?? "",
    plan_version: fieldValue(item, "plan_version") ?? "",
  };
}

/** The plan that a record was made with, else the nearest there is of its class. */
export function planOf(item: RecordCopy): Plan | null {
  const plan = planNamed(planNameOf(item));
  return plan && planOfKind(plan, item);
}

export function planNamed({ class_id, plan_version }: PlanName): Plan | null {
  if (!class_id) return null;
  const older = olderPlans.value[`${class_id} ${plan_version}`];
  const written = older ?? plans.value?.book.plans[class_id];
  return written ? whole(wholePlans, written, wholePlan) : null;
}

/** What a container on this device is called. */
function called(id: string) {
  const container = recordHere(id);
  return container?.kind === "container" ? thingName(container) : "";
}

/** The lists that a record's keys are of, and what containers that it names are called. */
export function listsOf(record: RecordCopy | null | undefined): Lists {
  return {
    plan: record?.kind === "item" ? planOf(record) : null,
    book: planBook() ?? null,
    container: called,
  };
}

const wholePlans = new WeakMap<Plan, Plan>();
const wholeBooks = new WeakMap<PlanBook, PlanBook>();

/** What was stored, with what it did not say yet; made once. */
function whole<Stored extends object>(
  made: WeakMap<Stored, Stored>,
  stored: Stored,
  make: (value: Stored) => Stored,
): Stored {
  const known = made.get(stored) ?? make(stored);
  made.set(stored, known);
  return known;
}
