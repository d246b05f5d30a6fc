/** What is said of several zones at once: that each was looked at and is clear, or that this thing never had them. */

import { useLayoutEffect, useState } from "preact/hooks";
import { type Step, zoneName } from "../../job/progress.ts";
import type { Operation, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, firstUpper, isOrAre } from "../../job/words.ts";
import { record } from "../../local/memory.ts";
import { keep, keepAll, takeAllBack } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone, sayUntilRead } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { Light } from "./zone_parts.tsx";
import { lightInHand } from "./zone_state.ts";

/** It opens in the place of a list that may be scrolled, and its first words say what a press means. */
function useFromTheTop() {
  useLayoutEffect(() => scrollTo(0, 0), []);
}

type SweepOf = { item_id: string; rest: Step[]; book: PlanBook; close: () => void };

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
export function NeverHad({ item_id, rest, close }: SweepOf) {
  const [chosen, setChosen] = useState<readonly string[]>([]);
  useFromTheTop();
  const toggle = (key: string) =>
    setChosen(chosen.includes(key) ? chosen.filter((value) => value !== key) : [...chosen, key]);
  const say = async () => {
    const undo = await sayNeverHad(item_id, chosen);
    close();
    sayDone(`${NEVER_HAD} ${chosen.map(zoneName).join(", ")}.`, undo);
  };
  const inOrder = [...rest].sort(
    (a, b) => Number(Boolean(b.zone.optional)) - Number(Boolean(a.zone.optional)),
  );
  return (
    <Frame
      title={NEVER_HAD}
      isAsking={true}
      back={`#/item/${item_id}`}
      action={
        <>
          <NotNow close={close} />
          {chosen.length > 0 && (
            <TieOn press={say} left={chosen.map(zoneName).join(", ")}>
              {NEVER_HAD} {chosen.length === 1 ? "this" : `these ${chosen.length}`}
            </TieOn>
          )}
        </>
      }
    >
      <p class="lead">Press what this thing never had. What is missing from it is a finding.</p>
      <div class="chips">
        {inOrder.map(({ key }) => (
          <button
            type="button"
            key={key}
            class="chip"
            aria-pressed={chosen.includes(key)}
            onClick={() => toggle(key)}
          >
            {firstUpper(zoneName(key))}
          </button>
        ))}
      </div>
    </Frame>
  );
}

async function sayNeverHad(item_id: string, zones: readonly string[]) {
  const never = { state: "not-examined", reason: "not-applicable", light: null, count: null } as const;
  const made = await keepAll(
    "examine_zone",
    zones.map((zone) => ({ item_id, zone, ...never })),
  );
  return () => sweepBack(item_id, made);
}

/**
 * The way back from a sweep. Of what the office may have, and of what was said otherwise since, it is said which zones
 * it is and what to do, until that is read: a zone that was spoken of at the office is never again one that was not.
 */
async function sweepBack(item_id: string, made: readonly Operation[]) {
  const stays = await takeAllBack(made);
  if (!stays.length) return;
  const all = stays.length < made.length ? "the rest is taken back" : "nothing is taken back";
  const parts = (["sent", "changed"] as const).flatMap((why) => {
    const zones = stays.filter((stay) => stay.why === why).flatMap(({ made }) => zonesOf(made));
    return zones.length ? `${STAYS[why]} ${zones.map(zoneName).join("; ")}` : [];
  });
  const name = fieldValue(record(item_id), "short_description") || "This thing";
  sayUntilRead(
    `${name}: ${[...parts, all].join("; ")}. Open what is wrong on its list of zones and say what is so.`,
  );
}

const STAYS = { sent: "the desk may have been told of", changed: "said anew since and left so:" };

/** The zones that an operation of a sweep speaks of. */
function zonesOf(op: Operation) {
  return op.kind === "examine_rest" ? op.zones : op.kind === "examine_zone" ? [op.zone] : [];
}

/** On an optional zone that nobody spoke of: it has none, nor the other optional ones that follow, by one press. */
export function HasNone({ item_id, steps, step, onward }: Pick<SweepOf, "item_id"> & HasNoneOf) {
  if (!step.zone.optional || step.state || step.findings.length) return null;
  const open = steps.filter((step) => step.zone.optional && !step.state && !step.findings.length);
  const say = (zones: Step[]) =>
    attempt(async () => {
      const undo = await sayNeverHad(
        item_id,
        zones.map(({ key }) => key),
      );
      sayDone(`It never had ${zones.map(({ key }) => zoneName(key)).join(", ")}.`, undo);
      onward(zones);
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
            .map(({ key }) => zoneName(key))
            .join(", ")}
        </button>
      )}
    </div>
  );
}

type HasNoneOf = { steps: Step[]; step: Step; onward: (done: Step[]) => void };

export function RestClear({ item_id, rest, book, close }: SweepOf) {
  const [light, setLight] = useState(lightInHand);
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
          <button type="button" class="main" disabled={!light} onClick={clear}>
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
      {light && <h2>Looked at with</h2>}
      <Light book={book} light={light} choose={setLight} isOpen={asking} toggle={() => setAsking(!asking)} />
    </Frame>
  );
}
