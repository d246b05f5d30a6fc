/** What is said of several zones at once: that each was looked at and is clear, or that this thing never had them. */

import { useState } from "preact/hooks";
import { isOfOtherKind, type Step, zoneName } from "../../job/progress.ts";
import { alongWith, canLack, coveredIn, namedAsNone } from "../../job/sweeps.ts";
import type { ItemRecord } from "../../job/types.ts";
import { countWords, firstUpper, isOrAre } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone, sayWrong } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { NotNow, useFromTheTop } from "./sweep_open.tsx";
import { sayNeverHad, sweepBack } from "./sweep_said.ts";
import { Light } from "./zone_parts.tsx";
import { lightInHand } from "./zone_state.ts";
import type { SweepOf } from "./zones_sweep.tsx";

const NEVER_HAD = "It never had";

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
  const { covered: rest, within, unlit, marks, beside, short, other } = coveredIn(steps, item, light);
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
      {beside.length > 0 && (
        <p>
          Not these, which it may not have: {beside.map(({ key }) => zoneName(key)).join(", ")}. Say of each
          that it is clear, or that it never had it.
        </p>
      )}
      {short.length > 0 && (
        <p>Not these, since something is missing: {short.map(({ key }) => zoneName(key)).join(", ")}.</p>
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
