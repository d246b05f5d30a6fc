/** What kind of thing an item is: it decides the zones, the tests and the views. */

import { signal } from "@preact/signals-core";
import { useEffect, useState } from "preact/hooks";
import { isStopped } from "../../job/cautions.ts";
import type { Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { device, recordOf, records } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { ClassDrawing, shortName } from "../../parts/class_drawing.tsx";
import { inOrder } from "../../parts/classes_in_order.ts";
import { attempt } from "../../parts/notices.tsx";
import { Sign } from "../../parts/sign.tsx";
import { useSelected } from "../../parts/use.ts";
import { classChange, whenHere } from "../../parts/with_words.ts";

type ClassOf = { item_id: string; plan: Plan | null; book: PlanBook | null };

/** A class that is asked for elsewhere on the screen, for this to change as it would by its own key. */
export const offeredClass = signal<{ item_id: string; class_id: string } | null>(null);

export function ClassChoice({ item_id, plan, book }: ClassOf) {
  const [open, setOpen] = useState(!plan);
  const [asked, setAsked] = useState("");
  const Asks = classChange.value;
  const choose = async (class_id: string) => {
    const asks = plan ? await whenHere(classChange) : null; // what has no class yet loses nothing
    if (!asks?.loses(item_id, class_id)) return put(class_id);
    setOpen(true); // what is asked stands where it is chosen
    setAsked(class_id);
  };
  const put = async (class_id: string) => {
    await putClass(item_id, class_id, book?.plans[class_id]?.version ?? "");
    setOpen(false);
    nameIt();
  };
  const offered = offeredClass.value;
  useEffect(() => {
    if (!book || offered?.item_id !== item_id) return;
    offeredClass.value = null;
    attempt(() => choose(offered.class_id));
  }, [offered]);
  if (!book)
    return (
      <p class="bar">
        The plans are not on this device yet. They come with the next sync; write the rest meanwhile.
      </p>
    );
  if (plan && !open) return <Chosen plan={plan} change={() => setOpen(true)} />;
  if (Asks && plan && asked) {
    const leave = () => {
      setAsked("");
      setOpen(false);
    };
    return <Asks.Change item_id={item_id} plan={plan} class_id={asked} book={book} leave={leave} />;
  }
  return <Classes book={book} chosen={plan?.class_id} choose={choose} />;
}

/** A class, and the version of its plan that is asked from then on. */
export async function putClass(item_id: string, class_id: string, version: string) {
  await keep("set_item", { item_id, field: "class_id", value: class_id });
  await keep("set_item", { item_id, field: "plan_version", value: version });
}

/** What comes after the class is its name, unless it has one; before that the number of pieces that was asked for. */
function nameIt() {
  const count = document.querySelector<HTMLInputElement>(".how-many-pieces input");
  if (count && !count.value) return count.focus();
  const field = document.querySelector<HTMLInputElement>("#what-it-is input");
  if (field && !field.value) field.focus();
}

type ClassesOf = { book: PlanBook; chosen: string | undefined; choose: (class_id: string) => unknown };

/** Every class as a drawing: first what this table sees, last of all what is only ever referred. */
function Classes({ book, chosen, choose }: ClassesOf) {
  const seen = useSelected(seenHere, []);
  const known = inOrder(book).filter(({ refer_only }) => !refer_only);
  const first = seen.flatMap((class_id) => known.find((plan) => plan.class_id === class_id) ?? []);
  const rest = known.filter((plan) => !first.includes(plan));
  const tile = (plan: Plan) => (
    <button
      type="button"
      key={plan.class_id}
      class="key class-tile"
      title={plan.name}
      aria-pressed={plan.class_id === chosen}
      onClick={() => attempt(async () => choose(plan.class_id))}
    >
      <ClassDrawing class_id={plan.class_id} />
      {shortName(plan)}
      {book.classes[plan.class_id]?.also && <small>{book.classes[plan.class_id]?.also}</small>}
    </button>
  );
  return (
    <>
      {first.length > 0 && (
        <fieldset class="class-tiles">
          <legend>Your table sees</legend>
          {first.map(tile)}
        </fieldset>
      )}
      <fieldset class="class-tiles">
        <legend>{first.length ? "Everything else" : "What kind of thing is it?"}</legend>
        {rest.map(tile)}
      </fieldset>
      {Object.values(book.plans)
        .filter(({ refer_only }) => refer_only)
        .map((plan) => (
          <button
            type="button"
            key={plan.class_id}
            class="row refer-only"
            title={plan.name}
            onClick={() => attempt(async () => choose(plan.class_id))}
          >
            <ClassDrawing class_id={plan.class_id} />
            <span class="what">
              <strong>{shortName(plan)}</strong>
              <small>only ever referred, never examined here</small>
            </span>
            <Sign of="stop" />
          </button>
        ))}
    </>
  );
}

const MOST_SEEN = 3;

/** The classes that this table has had most of today, most often first. */
function seenHere(): string[] {
  const here = device.value;
  if (!here?.table_id || !here.day_id) return [];
  const visits = records("visit", here.day_id) ?? [];
  const mine = new Set(
    visits
      .filter((visit) => fieldValue(visit, "table_id") === here.table_id)
      .map(({ record_id }) => record_id),
  );
  const counts = new Map<string, number>();
  for (const item of records("item", here.day_id) ?? []) {
    const class_id = fieldValue(item, "class_id");
    if (class_id && mine.has(item.visit_id)) counts.set(class_id, (counts.get(class_id) ?? 0) + 1);
  }
  return [...counts.keys()].sort((a, b) => (counts.get(b) ?? 0) - (counts.get(a) ?? 0)).slice(0, MOST_SEEN);
}

function Chosen({ plan, change }: { plan: Plan; change: () => void }) {
  return (
    <section class="chosen">
      <h2 class="unseen">Class</h2>
      <p class="with-key">
        <span>
          <strong>{shortName(plan)}</strong>
          {shortName(plan) !== plan.name && <small> {plan.name}</small>}
        </span>
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
