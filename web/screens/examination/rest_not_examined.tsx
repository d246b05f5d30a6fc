/** What is said of several zones at once: that nobody looked at them, and why. */

import { zoneName } from "../../job/progress.ts";
import { leftOpen } from "../../job/sweeps.ts";
import { TO_LOOK_AT } from "../../job/values.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { Choice } from "../../parts/choices.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone, sayWrong } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { NotNow, useFromTheTop } from "./sweep_open.tsx";
import { sayOfZones } from "./sweep_said.ts";
import type { SweepOf } from "./zones_sweep.tsx";

/** Said of what is left with a reason of its own: what the thing never had, and what is to be looked at again. */
const NOT_OF_THE_REST: ReadonlySet<string> = new Set(["not-applicable", "absent", TO_LOOK_AT]);

/** Zones that nobody looked at, for one reason: each is named, and one press leaves one out. */
export function RestNotExamined({ item, steps, book, close, cleared }: SweepOf) {
  const item_id = item.record_id;
  const open = leftOpen(steps, item);
  const { form, set, drop } = useHeld(`not examined ${item_id}`, {
    reason: "",
    without: [] as readonly string[],
  });
  const chosen = open.filter(({ key }) => !form.without.includes(key));
  const reasons = book.words.reasons.filter(({ reason }) => !NOT_OF_THE_REST.has(reason));
  useFromTheTop();
  const toggle = (key: string) => {
    const left = form.without.filter((other) => other !== key);
    return set("without")(left.length < form.without.length ? left : [...left, key]).catch(sayWrong);
  };
  const say = () =>
    attempt(async () => {
      const keys = chosen.map(({ key }) => key);
      const undo = await sayOfZones(item_id, keys, form.reason);
      drop();
      close();
      cleared?.(chosen);
      sayDone(`${countWords(keys.length, "zone")} not examined.`, undo);
    });
  return (
    <Frame
      title="Rest not examined"
      isAsking={true}
      back={`#/item/${item_id}`}
      action={
        <>
          <NotNow close={close} />
          <button type="button" class="main" disabled={!form.reason || !chosen.length} onClick={say}>
            {form.reason ? `Nobody looked at these ${chosen.length}` : "Say why first"}
          </button>
        </>
      }
    >
      <Choice
        label="Why not?"
        options={reasons.map(({ reason, words }) => [reason, words] as const)}
        value={form.reason || null}
        choose={set("reason")}
      />
      <p class="lead">This says that nobody looked at these. Press one that was looked at, or is to be:</p>
      <div class="chips">
        {open.map(({ key }) => (
          <button
            type="button"
            key={key}
            class="chip"
            aria-pressed={chosen.some((step) => step.key === key)}
            onClick={() => toggle(key)}
          >
            {firstUpper(zoneName(key))}
          </button>
        ))}
      </div>
    </Frame>
  );
}
