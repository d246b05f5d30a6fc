/** What is said of several zones at once: that each was looked at and is clear, or that this thing never had them. */

import { useLayoutEffect, useState } from "preact/hooks";
import { isOfOtherKind, type Step, zoneName } from "../../job/progress.ts";
import { alongWith, canLack, coveredIn, leftOpen, namedAsNone } from "../../job/sweeps.ts";
import type { ItemRecord } from "../../job/types.ts";
import { TO_LOOK_AT } from "../../job/values.ts";
import { countWords, firstUpper, isOrAre } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone, sayWrong } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { sayNeverHad, sayOfZones, sweepBack } from "./sweep_said.ts";
import { Light } from "./zone_parts.tsx";
import { lightInHand } from "./zone_state.ts";
import type { SweepOf } from "./zones_sweep.tsx";

/** It opens in the place of a list that may be scrolled, and its first words say what a press means. */
function useFromTheTop() {
  useLayoutEffect(() => scrollTo(0, 0), []);
}

const NEVER_HAD = "It never had";

/** Nothing is said of any of them now. */
function NotNow({ close }: { close: () => unknown }) {
  return (
    <button type="button" onClick={close}>
      Back to the zones
    </button>
  );
}

/**
 * Zones that this thing never had, each by its own press and then said together; what the plan calls optional comes
 * first.
 */
export function NeverHad({ item, rest, steps, book, close }: SweepOf) {
  const item_id = item.record_id;
  const { form, set, drop } = useHeld(`never had ${item_id}`, { zones: [] as readonly string[] });
  // What was said of a zone since, on its own screen, holds.
  const chosen = form.zones.filter((zone) => rest.some(({ key }) => key === zone));
  const along = alongWith(steps, chosen);
  const all = [...chosen, ...along];
  useFromTheTop();
  const toggle = (key: string) =>
    set("zones")(chosen.includes(key) ? chosen.filter((value) => value !== key) : [...chosen, key]).catch(
      sayWrong,
    );
  const say = async () => {
    const undo = await sayNeverHad(item_id, all);
    drop();
    close();
    sayDone(`${NEVER_HAD} ${all.map(zoneName).join(", ")}.`, undo);
  };
  const likely = ({ zone }: Step) => Number(isOfOtherKind(item, zone)) * 2 + Number(Boolean(zone.optional));
  const inOrder = rest.filter(({ zone }) => canLack(zone)).sort((a, b) => likely(b) - likely(a));
  return (
    <Frame
      title={NEVER_HAD}
      isAsking={true}
      back={`#/item/${item_id}`}
      action={
        <>
          <NotNow close={close} />
          {chosen.length > 0 && (
            <TieOn press={say} left={all.map(zoneName).join(", ")}>
              {NEVER_HAD} {all.length === 1 ? "this" : `these ${all.length}`}
            </TieOn>
          )}
        </>
      }
    >
      <p class="lead">Press what this thing never had. What is missing from it is a finding.</p>
      <div class="chips">
        {inOrder.map(({ key, zone }) => (
          <button
            type="button"
            key={key}
            class="chip"
            aria-pressed={all.includes(key)}
            disabled={along.includes(key)}
            onClick={() => toggle(key)}
          >
            {firstUpper(namedAsNone({ key, zone }, book.print))}
          </button>
        ))}
      </div>
    </Frame>
  );
}

export function covered(steps: readonly Step[], item: ItemRecord) {
  return coveredIn(steps, item, lightInHand(item.record_id)).covered.length;
}

export function RestClear({ item, steps, book, close, cleared }: SweepOf) {
  const item_id = item.record_id;
  const [light, setLight] = useState(() => lightInHand(item_id));
  const { covered: rest, within, unlit, marks, other } = coveredIn(steps, item, light);
  const [asking, setAsking] = useState(false);
  useFromTheTop();
  const clear = () =>
    attempt(async () => {
      const made = await keep("examine_rest", {
        item_id,
        zones: rest.map((step) => step.key),
        light,
      });
      close();
      cleared?.(rest);
      sayDone(`${countWords(rest.length, "zone")} ${isOrAre(rest.length)} clear.`, () =>
        sweepBack(item_id, [made]),
      );
    });
  return (
    <Frame
      title="Rest clear"
      isAsking={true}
      back={`#/item/${item_id}`}
      action={
        <>
          <NotNow close={close} />
          <button type="button" class="main" disabled={!light || !rest.length} onClick={clear}>
            {light ? `I looked at all ${rest.length}: clear` : "Say in which light first"}
          </button>
        </>
      }
    >
      <p class="lead">This says that you looked at each of these and found nothing:</p>
      <ul class="covered">
        {rest.map((step) => (
          <li key={step.key}>{zoneName(step.key)}</li>
        ))}
      </ul>
      {within.length > 0 && (
        <p>
          Not these, since what they lie in was not examined:{" "}
          {within.map(({ step, by }) => `${zoneName(step.key)} (${zoneName(by)})`).join(", ")}.
        </p>
      )}
      {unlit.length > 0 && (
        <p>
          Not these, which show only once it is opened, turned or taken out, in another light, or by a test
          that was not made: {unlit.map(({ key }) => zoneName(key)).join(", ")}. Say each on its own.
        </p>
      )}
      {marks.length > 0 && (
        <p>
          Not these, where marks are: {marks.map(({ key }) => zoneName(key)).join(", ")}. Say of each whether
          there is one.
        </p>
      )}
      {other.length > 0 && (
        <p>
          Not these, which a thing called so mostly never had:{" "}
          {other.map(({ key }) => zoneName(key)).join(", ")}.
        </p>
      )}
      {light && <h2>Looked at with</h2>}
      <Light book={book} light={light} choose={setLight} isOpen={asking} toggle={() => setAsking(!asking)} />
    </Frame>
  );
}

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
