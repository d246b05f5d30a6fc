/** Another class for what was examined, signed for or closed: what leaves the view is read first; one press is back. */

import { isMoreThanNamed, lostFromView, type OtherClass } from "../../job/other_class.ts";
import type { Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { recordOf } from "../../local/memory.ts";
import { shortName } from "../../parts/class_drawing.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { putClass } from "./item_class.tsx";

function around(item_id: string): OtherClass | null {
  const item = recordOf("item", item_id);
  return item
    ? { item, visit: recordOf("visit", item.visit_id) ?? null, day: recordOf("day", item.day_id) ?? null }
    : null;
}

/** Whether the class of a thing is changed only once somebody read what that does. */
export function loses(item_id: string, class_id: string): boolean {
  const of = around(item_id);
  const now = of && fieldValue(of.item, "class_id");
  return Boolean(of && now && now !== class_id && isMoreThanNamed(of));
}

type ChangeOf = { item_id: string; plan: Plan; class_id: string; book: PlanBook; leave: () => void };

export function Change({ item_id, plan, class_id, book, leave }: ChangeOf) {
  const to = book.plans[class_id];
  const of = around(item_id);
  if (!to || !of) return null;
  const change = async () => {
    const before = fieldValue(of.item, "plan_version") ?? "";
    await putClass(item_id, class_id, to.version);
    leave();
    sayDone(`Now: ${shortName(to)}.`, () => putClass(item_id, plan.class_id, before));
  };
  return (
    <section class="card in-hand" role="alert">
      <h2>
        {shortName(plan)} become {shortName(to)}?
      </h2>
      {lostFromView(of, plan, to).map((words) => (
        <p key={words}>{words}</p>
      ))}
      <p class="hint">
        Nothing is lost: what was said stays on record, and is in view again under its own class.
      </p>
      <div class="pair">
        <button type="button" onClick={leave}>
          Leave it: {shortName(plan)}
        </button>
        <button type="button" onClick={() => attempt(change)}>
          Change it to {shortName(to)}
        </button>
      </div>
    </section>
  );
}
