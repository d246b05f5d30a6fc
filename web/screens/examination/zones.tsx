/** The walk: every zone in the plan's order, what was said, what is left, and "rest clear" with its list. */

import { useState } from "preact/hooks";
import { type Step, walk, zoneName } from "../../job/progress.ts";
import type { PlanBook } from "../../job/types.ts";
import { spaced } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Below } from "../../parts/below.tsx";
import { Choice } from "../../parts/choices.tsx";
import { Condition } from "../../parts/condition.tsx";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Outline } from "../../parts/outline.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { StateMark } from "../../parts/zone_marks.tsx";
import { zoneAddress } from "./zone_steps.ts";

/** So many lie under the drawing on the largest screen that is held in a hand. */
const FIRST_ROWS = 8;

export default function Zones({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [asking, setAsking] = useState(false);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book)
    return (
      <Frame title="Zones" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  if (!plan)
    return (
      <Frame
        title="Zones"
        back={back}
        action={
          <a class="button main" href={back}>
            Choose a class
          </a>
        }
      >
        <p class="lead">The class decides which zones are looked at.</p>
      </Frame>
    );
  if (plan.refer_only)
    return (
      <Frame title="Zones" back={back}>
        <p class="lead">{plan.name} is referred, not examined at the table.</p>
      </Frame>
    );
  const steps = walk(plan, item);
  const left = steps.filter((step) => !step.state);
  const restable = left.filter((step) => !step.findings.length);
  const next = left[0];
  const row = (step: Step) => (
    <ZoneRow key={step.key} item_id={item_id} step={step} book={book} isNext={step === next} />
  );
  if (asking)
    return <RestClear item_id={item_id} rest={restable} book={book} close={() => setAsking(false)} />;
  return (
    <Frame
      title={
        left.length ? `Zones: ${left.length} left of ${steps.length}` : `Zones: all ${steps.length} done`
      }
      back={back}
      item_id={item.record_id}
      action={
        next ? (
          <>
            {restable.length > 1 && (
              <button type="button" onClick={() => setAsking(true)}>
                Rest clear ({restable.length})
              </button>
            )}
            <a class="button main" href={zoneAddress(item_id, next.key)}>
              {steps.length === left.length ? "Begin" : "Go on"}: {zoneName(next.key)}
            </a>
          </>
        ) : (
          <NextStep item={item} here="/zones" />
        )
      }
    >
      <p class="frame-note">{plan.frame_note}</p>
      <Outline
        drawings={book.outlines?.[plan.class_id] ?? []}
        steps={steps}
        chosen={next?.key}
        choose={(key) => {
          location.hash = zoneAddress(item_id, key);
        }}
      />
      <ol class="zones">
        {steps.slice(0, FIRST_ROWS).map(row)}
        <Below>{steps.slice(FIRST_ROWS).map(row)}</Below>
      </ol>
      <Below>
        {left.length < steps.length && (
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
        <StateMark state={step.state?.state} />
      </a>
    </li>
  );
}

function reasonWords(book: PlanBook, step: Step) {
  return (
    book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words ??
    step.state?.light?.replaceAll("-", " ") ??
    ""
  );
}

function RestClear({
  item_id,
  rest,
  book,
  close,
}: {
  item_id: string;
  rest: Step[];
  book: PlanBook;
  close: () => void;
}) {
  const [light, setLight] = useState("");
  const clear = () =>
    attempt(async () => {
      await keep("examine_rest", { item_id, zones: rest.map((step) => step.key), light });
      close();
      sayDone(`${rest.length} zones are clear.`);
    });
  return (
    <Frame
      title="Rest clear"
      back={`#/item/${item_id}`}
      action={
        <>
          <button type="button" onClick={close}>
            Not all of them
          </button>
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
      <Choice
        label="Looked at with"
        options={book.words.lights.map(({ light, words }) => [light, words] as const)}
        value={light}
        choose={setLight}
      />
    </Frame>
  );
}
