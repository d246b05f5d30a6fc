/** On the walk: that a thing never had a zone, nor what lies in it or is of its kind. */

import { useEffect, useRef } from "preact/hooks";
import { marksByZone } from "../../job/marks_on.ts";
import { isOfOtherKind, type Step, zoneName } from "../../job/progress.ts";
import { alongWith, mayNotBeThere, namedAsNone } from "../../job/sweeps.ts";
import { CopiedMarks } from "../../parts/copied_marks.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { usePlan } from "../../parts/use.ts";
import { sayNeverHad } from "./sweep_said.ts";
import type { AnyMarkOf, HasNoneOf } from "./zones_sweep.tsx";

/**
 * On an optional zone that nobody spoke of: it has none, nor the other optional ones that follow, by one press. On one
 * from which a mark was copied that mark, which "Clear" beside its name says nothing of.
 */
export function HasNone({ book, item, steps, step, onward }: HasNoneOf) {
  const item_id = item.record_id;
  const plan = usePlan(item);
  const marks = (step.state && plan && marksByZone(plan, item).get(step.key)) || [];
  if (marks.length) return <CopiedMarks marks={marks} />;
  const isOpen = ({ state, findings }: Step) => !state && !findings.length;
  // What such a thing never has is said together; with what it may have or not, that is said as well.
  const isOther = ({ zone }: Step) => isOfOtherKind(item, zone);
  const isAlike = (row: Step) => isOther(row) || (row.zone.optional && !isOther(step));
  if (!isOpen(step) || !(isAlike(step) || mayNotBeThere(step, item))) return null;
  const open = isAlike(step) ? steps.filter((row) => isAlike(row) && isOpen(row)) : [];
  const say = (zones: Step[]) =>
    attempt(async () => {
      const keys = zones.map(({ key }) => key);
      const all = [...keys, ...alongWith(steps, keys)];
      const undo = await sayNeverHad(item_id, all);
      sayDone(`It never had ${all.map(zoneName).join(", ")}.`, undo);
      onward(steps.filter(({ key }) => all.includes(key)));
    });
  return (
    <div class="chips">
      <button type="button" class="chip" onClick={() => say([step])}>
        It never had this
      </button>
      {open.length > 1 && (
        <button type="button" class="chip" onClick={() => say(open)}>
          Nor{" "}
          {open
            .filter((row) => row !== step)
            .map((row) => namedAsNone(row, book.print))
            .join(", ")}
        </button>
      )}
    </div>
  );
}

/** That it never had a zone and what lies in it: those zones; null, with nothing said, where nothing lies in it. */
export async function sayNone({
  item,
  steps,
  step,
  back,
}: Omit<HasNoneOf, "onward" | "book"> & { back: () => unknown }) {
  const along = alongWith(steps, [step.key]);
  if (!along.length) return null;
  const none = [step.key, ...along];
  const undo = await sayNeverHad(item.record_id, none);
  sayDone(`It never had ${none.map(zoneName).join(", ")}.`, async () => {
    if (await undo()) back();
  });
  return steps.filter(({ key }) => none.includes(key));
}

/**
 * Clear of a place of marks is of a mark that was read without fault, or of none: which it is, nobody guesses. Either
 * is one press; whoever presses Clear is brought here.
 */
export function AnyMark({ isAsked, clear, none }: AnyMarkOf) {
  const asks = useRef<HTMLElement>(null);
  useEffect(() => {
    if (!isAsked) return;
    asks.current?.scrollIntoView({ block: "center" });
    asks.current?.querySelector("button")?.focus({ preventScroll: true });
  }, [isAsked]);
  return (
    <section ref={asks} class={isAsked ? "card in-hand" : undefined}>
      <h2>Clear: is there a mark?</h2>
      <div class="chips">
        <button type="button" class="chip" onClick={clear}>
          There is one, and without fault
        </button>
        <button type="button" class="chip" onClick={none}>
          There is none
        </button>
      </div>
    </section>
  );
}
