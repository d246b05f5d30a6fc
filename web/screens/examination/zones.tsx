/** The walk: every zone in the plan's order, what was said, what is left, and "rest clear" with its list. */

import { useState } from "preact/hooks";
import { zonesOf } from "../../job/edge.ts";
import { outlinesOf } from "../../job/outlines_of.ts";
import { isNoneSeen, NONE_SEEN, type Step, walk, zoneName } from "../../job/progress.ts";
import type { PlanBook } from "../../job/types.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { zonesBeyond } from "../../job/zones_beyond.ts";
import { Below, InTurn } from "../../parts/below.tsx";
import { shortName } from "../../parts/class_drawing.tsx";
import { Edge } from "../../parts/edge.tsx";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { Outline } from "../../parts/outline.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { overall } from "../../parts/with_words.ts";
import { StateMark } from "../../parts/zone_marks.tsx";
import { Doors } from "./item_doors.tsx";
import { RowsBeyond } from "./zone_beyond.tsx";
import { zoneAddress } from "./zone_steps.ts";
import { sweeps } from "./zones_sweep.tsx";

/** So many lie under the drawing on the largest screen that is held in a hand. */
const FIRST_ROWS = 8;

export default function Zones({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const Condition = overall.value;
  const book = usePlanBook();
  const [asking, setAsking] = useState<"" | "NeverHad" | "RestClear" | "RestNotExamined">("");
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book)
    return (
      <Frame title="Zones" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  if (!plan)
    return (
      <Frame title="Zones" back={back} action={<TieOn href={back}>Choose a class</TieOn>}>
        <p class="lead">The class decides which zones are looked at.</p>
      </Frame>
    );
  if (plan.refer_only)
    return (
      <Frame title="Zones" back={back}>
        <p class="lead">{shortName(plan)} is referred, not examined at the table.</p>
      </Frame>
    );
  const steps = walk(plan, item);
  const left = steps.filter((step) => !step.state);
  const restable = left.filter((step) => !step.findings.length);
  const next = left[0];
  const row = (step: Step) => (
    <ZoneRow key={step.key} item_id={item_id} step={step} book={book} isNext={step === next} />
  );
  const close = () => setAsking("");
  const said = sweeps.value;
  const open = said?.covered(steps, item) ?? 0;
  const Sweep = asking && said?.[asking];
  if (Sweep) return <Sweep item={item} rest={restable} steps={steps} book={book} close={close} />;
  return (
    <Frame
      title={
        left.length ? `Zones: ${left.length} left of ${steps.length}` : `Zones: all ${steps.length} done`
      }
      back={back}
      item_id={item.record_id}
      keys={
        said &&
        restable.length > 1 && (
          <div class="dock-row">
            <button type="button" onClick={() => setAsking("NeverHad")}>
              It never had …
            </button>
            {open > 0 && (
              <button type="button" onClick={() => setAsking("RestClear")}>
                Rest clear ({open})
              </button>
            )}
            <button type="button" onClick={() => setAsking("RestNotExamined")}>
              Rest not examined
            </button>
          </div>
        )
      }
      action={
        next ? (
          <TieOn href={zoneAddress(item_id, next.key)} left={`${left.length} of ${steps.length} left`}>
            {steps.length === left.length ? "Begin" : "Go on"}: {zoneName(next.key)}
          </TieOn>
        ) : (
          <NextStep item={item} here="/zones" />
        )
      }
    >
      <Edge zones={zonesOf(plan, item)} />
      {!next && <Doors item_id={item_id} plan={plan} />}
      <div class="drawn-and-listed">
        <div>
          <p class="frame-note">{plan.frame_note}</p>
          {said && <said.Swept item={item} />}
          <Outline
            drawings={outlinesOf(book, plan, item)}
            steps={steps}
            chosen={next?.key}
            choose={(key) => {
              location.hash = zoneAddress(item_id, key);
            }}
          />
        </div>
        <ol class="zones">
          <InTurn of={steps} first={FIRST_ROWS} draw={row} />
        </ol>
      </div>
      <Below>
        <RowsBeyond item_id={item_id} plan={plan} steps={zonesBeyond(plan, item)} />
        {left.length < steps.length && Condition && (
          <section>
            <h2>Overall condition</h2>
            <Condition plan={plan} item={item} />
          </section>
        )}
      </Below>
    </Frame>
  );
}

type ZoneRowOf = { item_id: string; step: Step; book: PlanBook; isNext: boolean };

function ZoneRow({ item_id, step, book, isNext }: ZoneRowOf) {
  return (
    <li class={isNext ? "next" : ""}>
      <a class="row" href={zoneAddress(item_id, step.key)}>
        <span class="what">
          {zoneName(step.key)}
          <small>
            {step.findings.length
              ? step.findings.map(({ value }) => spaced(value.term)).join(", ")
              : reasonWords(book, step) || step.zone.words}
          </small>
        </span>
        <StateMark said={step.state} />
      </a>
    </li>
  );
}

function reasonWords(book: PlanBook, step: Step) {
  if (isNoneSeen(step.zone, step.state)) return firstUpper(NONE_SEEN);
  return (
    book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words ??
    step.state?.light?.replaceAll("-", " ") ??
    ""
  );
}
