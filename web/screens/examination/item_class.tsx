/** What kind of thing an item is: it decides the zones, the tests and the views. */

import { useState } from "preact/hooks";
import { isStopped } from "../../job/cautions.ts";
import { walk } from "../../job/progress.ts";
import type { Plan, PlanBook } from "../../job/types.ts";
import { CLASSES_WITHOUT_PLAN } from "../../job/words.ts";
import { recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { useSelected } from "../../parts/use.ts";

type ClassOf = { item_id: string; plan: Plan | null; book: PlanBook | null };

export function ClassChoice({ item_id, plan, book }: ClassOf) {
  const [open, setOpen] = useState(!plan);
  const examined = useSelected(() => {
    const item = recordOf("item", item_id);
    return Boolean(item && plan && walk(plan, item).some(({ state }) => state));
  }, [item_id, plan]);
  if (!book)
    return (
      <p class="bar">
        The plans are not on this device yet. They come with the next sync; write the rest meanwhile.
      </p>
    );
  const choose = async (class_id: string) => {
    const version = book.plans[class_id]?.version ?? "";
    await keep("set_item", { item_id, field: "class_id", value: class_id });
    await keep("set_item", { item_id, field: "plan_version", value: version });
    setOpen(false);
  };
  if (plan && !open) return <Chosen plan={plan} change={() => setOpen(true)} />;
  return (
    <section>
      <Choice
        label="What kind of thing is it?"
        options={inOrder(book).map(({ class_id, name }) => [class_id, name] as const)}
        value={plan?.class_id}
        choose={choose}
      />
      {examined && <p class="hint">What was said about zones stays in the record when the class changes.</p>}
    </section>
  );
}

/** By name, and last of all the one for what has no class. */
function inOrder(book: PlanBook) {
  const last = (plan: Plan) => Number(plan.class_id === CLASSES_WITHOUT_PLAN);
  return Object.values(book.plans).sort(
    (one, other) => last(one) - last(other) || one.name.localeCompare(other.name),
  );
}

function Chosen({ plan, change }: { plan: Plan; change: () => void }) {
  return (
    <section class="chosen">
      <h2 class="unseen">Class</h2>
      <p>
        <strong>{plan.name}</strong>{" "}
        <button type="button" class="quiet" onClick={change}>
          Choose another class
        </button>
      </p>
      {plan.hazards.length > 0 && (
        <p class="hint">
          Take care: this class can hold hazards. When in doubt do not open, wind, taste or plug in anything;
          set it apart and ask.
        </p>
      )}
    </section>
  );
}

/** What is done with a class that nobody examines; once it is stopped its caution alone says what is done. */
export function ReferOnly({ item_id, plan }: { item_id: string; plan: Plan }) {
  const stopped = useSelected(() => {
    const item = recordOf("item", item_id);
    return Boolean(item && isStopped(item));
  }, [item_id]);
  if (stopped) return null;
  return (
    <section class="caution">
      <h2>Do not examine: refer it</h2>
      <p>
        <a class="button main" href={`#/item/${item_id}/stop`}>
          Stop: pick what was noticed
        </a>
      </p>
      <p>Local law and licensed people decide what may be done with it.</p>
      <h3>Do</h3>
      <Lines lines={plan.instructions.do} inOrder={true} />
      <h3>Do not</h3>
      <Lines lines={plan.instructions.do_not} />
    </section>
  );
}

function Lines({ lines, inOrder }: { lines: string[]; inOrder?: boolean }) {
  const rows = lines.map((line) => <li key={line}>{line}</li>);
  return inOrder ? <ol class="in-order">{rows}</ol> : <ul>{rows}</ul>;
}
