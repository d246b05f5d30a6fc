/** One zone: clear, a finding, or not examined and why. A blank is never "fine". */

import { useState } from "preact/hooks";
import { type Step, walk, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Counted } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt } from "../../parts/notices.tsx";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { StateMark } from "../../parts/zone_marks.tsx";
import { Denials } from "./denials.tsx";
import { NewFinding } from "./finding.tsx";
import { Finding } from "./finding_fields.tsx";
import { ChangeWhatWasSaid, Light, Origin, WhereOnIt, WhyNot } from "./zone_parts.tsx";
import { type Examining, useExamining } from "./zone_state.ts";

export type ZoneGiven = { item: ItemRecord; plan: Plan; book: PlanBook; steps: Step[]; step: Step };

export default function Zone({ item_id, zone_key }: { item_id: string; zone_key: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const ready = item && plan && book;
  const steps = ready ? walk(plan, item) : [];
  const step = steps.find(({ key }) => key === zone_key);
  if (!ready || !step)
    return (
      <Frame title={zoneName(zone_key)} back={`#/item/${item_id}/zones`}>
        <p>{ready ? "This plan has no such zone." : "Reading …"}</p>
      </Frame>
    );
  return <ZoneOf key={zone_key} item={item} plan={plan} book={book} steps={steps} step={step} />;
}

function ZoneOf(given: ZoneGiven) {
  const { item, plan, book, steps, step } = given;
  const [asking, setAsking] = useState(false); // why it was not examined
  const examining = useExamining(given);
  const { state, light, useLight, found, skip } = examining;
  return (
    <Frame
      title={zoneName(step.key)}
      back={`#/item/${item.record_id}/zones`}
      item_id={item.record_id}
      action={<Actions step={step} examining={examining} asking={asking} ask={() => setAsking(!asking)} />}
    >
      <WhereInTheWalk plan={plan} steps={steps} step={step} />
      <WhereOnIt {...given} />
      <Light book={book} light={light} choose={useLight} />
      <HowMany item={item} step={step} light={light} />
      {state === "not-examined" && (
        <p class="lead">{book.words.reasons.find(({ reason }) => reason === step.state?.reason)?.words}</p>
      )}
      {asking && <WhyNot book={book} skip={skip} />}
      <Findings {...given} />
      {(light || state === "finding") && state !== "clear" && (
        <NewFinding item_id={item.record_id} step={step} book={book} found={found} />
      )}
      <Denials item={item} plan={plan} book={book} step={step} light={light} />
      {state && state !== "not-examined" && <Origin item={item} book={book} zone={step.key} />}
      {state && <ChangeWhatWasSaid {...given} examining={examining} ask={() => setAsking(!asking)} />}
      <ZonePhotos item={item} step={step} />
    </Frame>
  );
}

type ActionsOf = { step: Step; examining: Examining; asking: boolean; ask: () => void };

function Actions({ step, examining, asking, ask }: ActionsOf) {
  const { state, light, next, clear, onward } = examining;
  if (state)
    return (
      <button type="button" class="main" onClick={onward}>
        {next.includes("/zone/") ? "Next zone" : "All zones done"}
      </button>
    );
  return (
    <>
      <button type="button" onClick={ask} aria-expanded={asking}>
        Not examined
      </button>
      <button
        type="button"
        class="main"
        disabled={!light || step.findings.length > 0}
        onClick={() => attempt(clear)}
      >
        Clear
      </button>
    </>
  );
}

function WhereInTheWalk({ plan, steps, step }: Pick<ZoneGiven, "plan" | "steps" | "step">) {
  return (
    <>
      <p class="place-in-walk">
        Zone {steps.indexOf(step) + 1} of {steps.length} <StateMark state={step.state?.state} />
      </p>
      <p class="lead">{step.zone.words}</p>
      <p class="frame-note">
        {plan.frame_note}
        {step.zone.members === "counted" ? ` ${plan.count_start}` : ""}
      </p>
    </>
  );
}

/** Some zones are counted, such as the spindles of a chair. */
function HowMany({ item, step, light }: { item: ItemRecord; step: Step; light: string }) {
  const state = step.state?.state;
  if (step.zone.members !== "counted" || !state || state === "not-examined") return null;
  const save = (count: number) =>
    keep("examine_zone", {
      item_id: item.record_id,
      zone: step.key,
      state,
      reason: null,
      light: light || null,
      count,
    });
  return <Counted label="How many were counted" value={step.state?.count} save={save} />;
}

function Findings({ item, plan, book, step }: ZoneGiven) {
  if (!step.findings.length) return null;
  return (
    <section>
      <h2>
        Findings <span class="count">{step.findings.length}</span>
      </h2>
      {step.findings.map(({ id, value }) => (
        <Finding key={id} id={id} value={value} item={item} plan={plan} book={book} step={step} />
      ))}
    </section>
  );
}

function ZonePhotos({ item, step }: { item: ItemRecord; step: Step }) {
  const about = { item_id: item.record_id, view: null, zone: step.key, finding_id: null };
  return (
    <section>
      <h2>
        Photos of this zone <span class="count">{step.photos.length}</span>
      </h2>
      <PictureButtons take={(blob) => keepPhoto(blob, about)} />
      <div class="pictures">
        {step.photos.map(({ id, value }) => (
          <Thumb key={id} sha256={value.thumb_sha256} words={`photo of ${zoneName(step.key)}`} />
        ))}
      </div>
    </section>
  );
}
