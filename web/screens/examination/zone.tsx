/**
 * The walk through the zones of a thing, on one screen: its edge and its drawing above, the zone in hand below, what
 * can be said of it under the thumb. What is said goes on to the next zone by itself. A blank is never "fine".
 */

import { useEffect, useState } from "preact/hooks";
import { zonesOf } from "../../job/edge.ts";
import { isNoneSeen, lightsBeside, NONE_SEEN, type Step, walk, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { zonesBeyond } from "../../job/zones_beyond.ts";
import { shortName } from "../../parts/class_drawing.tsx";
import { Edge } from "../../parts/edge.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt } from "../../parts/notices.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { StateMark } from "../../parts/zone_marks.tsx";
import { Denials } from "./denials.tsx";
import { NewFinding } from "./finding.tsx";
import { Finding } from "./finding_fields.tsx";
import { knownSoFar } from "./so_far.ts";
import { ZoneBeyond } from "./zone_beyond.tsx";
import { WalkDock, WalkKeys } from "./zone_dock.tsx";
import { WhereOnIt } from "./zone_drawing.tsx";
import { HowMany, Light, Origin, WhyNot, ZonePhotos } from "./zone_parts.tsx";
import { useExamining } from "./zone_state.ts";
import { goOnAt, zoneAddress } from "./zone_steps.ts";
import { sweeps } from "./zones_sweep.tsx";

export type ZoneGiven = {
  item: ItemRecord;
  plan: Plan;
  book: PlanBook;
  steps: Step[];
  step: Step;
  /** Go on to a zone; to the list of them where there is none. */
  go: (to: Step | undefined) => void;
};

export default function Zone({ item_id, zone_key }: { item_id: string; zone_key: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [key, setKey] = useState(zone_key);
  const ready = item && plan && book;
  const steps = ready ? walk(plan, item) : [];
  const step = steps.find((step) => step.key === key);
  const beyond = ready && zonesBeyond(plan, item).find((step) => step.key === key);
  const list = `#/item/${item_id}/zones`;
  if (beyond) return <ZoneBeyond item={item} plan={plan} book={book} step={beyond} />;
  if (!ready || !step)
    return (
      <Frame title={zoneName(key)} back={list}>
        <p>{ready ? "This plan has no such zone." : "Reading …"}</p>
      </Frame>
    );
  const go = (to: Step | undefined) => {
    if (!to) {
      location.hash = list;
      return;
    }
    goOnAt(zoneAddress(item_id, to.key));
    setKey(to.key);
    scrollTo(0, 0);
  };
  return <ZoneOf item={item} plan={plan} book={book} steps={steps} step={step} go={go} />;
}

/** What is asked or opened on the zone in hand; nothing of it follows to the next. */
export type Asking =
  | ""
  | "why not"
  | "other terms"
  | "light"
  | "any mark"
  | "rest clear"
  | "rest not examined";

function ZoneOf(given: ZoneGiven) {
  const { item, plan, book, steps, step } = given;
  const [asking, setAsking] = useState<Asking>("");
  useEffect(() => setAsking(""), [step.key]);
  const examining = useExamining(given);
  const { state, light, useLight, found, clear, skip, passOver } = examining;
  const HasNone = sweeps.value?.HasNone;
  const said = sweeps.value;
  const Sweep =
    asking === "rest clear" ? said?.RestClear : asking === "rest not examined" && said?.RestNotExamined;
  const AnyMark = !state && light && step.zone.wording?.length ? said?.AnyMark : null;
  // Clear asks of a mark however often it is pressed; other keys close again what they opened.
  const ask = (what: Asking) => setAsking(what === asking && what !== "any mark" ? "" : what);
  // What was not called clear with the rest is in hand still.
  const cleared = (done: readonly Step[]) => done.includes(step) && passOver(done);
  if (Sweep) return <Sweep {...given} rest={steps} close={() => setAsking("")} cleared={cleared} />;
  const isLookedAt = Boolean(light || state === "finding") && state !== "not-examined";
  const Known = knownSoFar.value;
  return (
    <Frame
      title={fieldValue(item, "short_description") || shortName(plan)}
      back={`#/item/${item.record_id}/zones`}
      item_id={item.record_id}
      keys={<WalkKeys {...given} examining={examining} asking={asking} ask={ask} />}
      action={<WalkDock {...given} examining={examining} ask={ask} />}
    >
      <Edge zones={zonesOf(plan, item)} inHand={steps.indexOf(step)} />
      <div class="walk">
        <div>
          <WhereOnIt {...given} />
          <div class="zone-top">
            <ZoneHead steps={steps} step={step} />
            <Light
              book={book}
              light={light}
              also={lightsBeside(item, step, light)}
              choose={useLight}
              isOpen={asking === "light"}
              toggle={() => ask("light")}
            />
          </div>
        </div>
        <div>
          {HasNone && <HasNone book={book} item={item} steps={steps} step={step} onward={passOver} />}
          {AnyMark && (
            <AnyMark
              key={step.key}
              isAsked={asking === "any mark"}
              clear={() => attempt(clear)}
              none={() => attempt(() => skip("not-applicable"))}
            />
          )}
          {asking === "why not" && (
            <WhyNot book={book} skip={skip} rest={state ? undefined : () => ask("rest not examined")} />
          )}
          {state === "not-examined" && <p class="lead">{reasonWords(book, step)}</p>}
          {step.findings.map(({ id, value }) => (
            <Finding key={id} id={id} value={value} item={item} plan={plan} book={book} step={step} />
          ))}
          {isLookedAt && asking !== "why not" && (
            <NewFinding
              key={step.key}
              item_id={item.record_id}
              step={step}
              book={book}
              found={found}
              isOther={asking === "other terms"}
              askOther={() => ask("other terms")}
            />
          )}
          <Denials {...given} examining={examining} />
          <HowMany item={item} step={step} light={light} />
          <More key={`more ${step.key}`} {...given} />
        </div>
        {Known && <Known item={item} plan={plan} book={book} />}
      </div>
    </Frame>
  );
}

function reasonWords(book: PlanBook, step: Step) {
  if (isNoneSeen(step.zone, step.state)) return firstUpper(NONE_SEEN);
  return book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words;
}

/** Its name, its place on the walk, what belongs to it; read out when the next zone comes. */
function ZoneHead({ steps, step }: Pick<ZoneGiven, "steps" | "step">) {
  return (
    <div class="zone-head" aria-live="polite">
      <h2>{firstUpper(zoneName(step.key))}</h2>
      <p class="place-in-walk">
        {steps.indexOf(step) + 1} of {steps.length} <StateMark said={step.state} />
        <small>{step.zone.words}</small>
      </p>
    </div>
  );
}

/** What is seldom needed: how sides are named, what has happened to the zone, further pictures of it. */
function More({ item, plan, book, step }: ZoneGiven) {
  const state = step.state?.state;
  return (
    <details>
      <summary>
        More on this zone{step.photos.length ? `, ${countWords(step.photos.length, "picture")}` : ""}
      </summary>
      <p class="frame-note">
        {plan.frame_note}
        {step.zone.members === "counted" ? ` ${plan.count_start}` : ""}
      </p>
      {state && state !== "not-examined" && <Origin item={item} book={book} zone={step.key} />}
      <ZonePhotos item={item} step={step} />
    </details>
  );
}
