/** What can be said of the zone in hand, under the thumb. */

import { zoneName } from "../../job/progress.ts";
import { countWords } from "../../job/words.ts";
import { attempt } from "../../parts/notices.tsx";
import { Sign, ZoneSign } from "../../parts/sign.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import type { Asking, ZoneGiven } from "./zone.tsx";
import type { Examining } from "./zone_state.ts";
import { sweeps } from "./zones_sweep.tsx";

type DockOf = ZoneGiven & { examining: Examining; asking: Asking; ask: (what: Asking) => void };

/**
 * The label stands there only when something was said: the key that says it is a person's word, and one place that is
 * pressed twenty times would make untrue clears.
 */
export function WalkDock(given: Omit<DockOf, "asking">) {
  const { steps, examining } = given;
  const { state, next, onward } = examining;
  const left = steps.filter((step) => !step.state).length;
  return (
    <>
      <Before {...given} />
      {state ? (
        <TieOn press={onward} left={next ? `${countWords(left, "zone")} left` : "every zone was spoken of"}>
          {next ? `Next: ${zoneName(next.key)}` : "All zones done"}
        </TieOn>
      ) : (
        <SeeLeft {...given} left={left} />
      )}
    </>
  );
}

/** The zone before this one, to look at again; it stands where Undo stands while there is something to undo. */
function Before({ steps, step, go }: Pick<DockOf, "steps" | "step" | "go">) {
  const before = steps[steps.indexOf(step) - 1];
  if (!before) return null;
  return (
    <button type="button" class="before" onClick={() => go(before)}>
      <Sign of="back" />{" "}
      <span>
        Previous<span class="unseen">: {zoneName(before.key)}</span>
      </span>
    </button>
  );
}

function SeeLeft({ item, steps, examining, ask, left }: Omit<DockOf, "asking"> & { left: number }) {
  const open = (examining.light && sweeps.value?.covered(steps, item)) || 0;
  return (
    <div class="dock-row see-left">
      <a class="button" href={`#/item/${item.record_id}/zones`}>
        See the {left} left
      </a>
      {open > 1 && (
        <button type="button" onClick={() => ask("rest clear")}>
          Rest clear ({open})
        </button>
      )}
    </div>
  );
}

/** What can be said of the zone; of a fresh one also where Clear leads, where it is then said what was done. */
export function WalkKeys(given: DockOf) {
  const { state, next, light } = given.examining;
  const asksOfMark = Boolean(given.step.zone.wording?.length && sweeps.value);
  return (
    <>
      <StateKeys {...given} />
      <p class="dock-words">
        {state ? (
          given.step.findings.length > 0 && "Clear once its findings are withdrawn."
        ) : light && asksOfMark ? (
          given.asking === "any mark" ? (
            <strong>Say above whether there is a mark.</strong>
          ) : (
            "Clear asks whether there is a mark."
          )
        ) : light ? (
          <>
            Clear goes on by itself to <strong>{next ? zoneName(next.key) : "the list"}</strong>.
          </>
        ) : (
          "Say first with what you look."
        )}
      </p>
    </>
  );
}

/** One of three states, or none yet. A press on a fresh zone goes on; on one that was spoken of it changes the word. */
function StateKeys({ step, examining, asking, ask }: DockOf) {
  const { state, light, clear, examine } = examining;
  const hasFindings = step.findings.length > 0;
  return (
    <fieldset class="dock-row state-keys">
      <legend class="unseen">What is so</legend>
      <button
        type="button"
        class="key"
        aria-pressed={state === "clear"}
        disabled={!light || hasFindings}
        title={hasFindings ? "Withdraw the findings first" : undefined}
        onClick={() =>
          attempt(async () => {
            if (state) return state !== "clear" && examine("clear");
            return step.zone.wording?.length && sweeps.value ? ask("any mark") : clear();
          })
        }
      >
        <ZoneSign state="clear" /> Clear
      </button>
      <button
        type="button"
        class="key"
        aria-pressed={state === "finding"}
        aria-expanded={asking === "other terms"}
        disabled={!light && !hasFindings}
        onClick={() => ask("other terms")}
      >
        <ZoneSign state="finding" /> Finding
      </button>
      <button
        type="button"
        class="key"
        aria-pressed={state === "not-examined"}
        aria-expanded={asking === "why not"}
        onClick={() => ask("why not")}
      >
        <ZoneSign state="not-examined" /> Not examined
      </button>
    </fieldset>
  );
}
