/** What a caution says: the first minute in large type, then what staff may and may not do, and who decides. */

import type { ComponentChildren } from "preact";
import { dateWords } from "../job/day_facts.ts";
import type { Caution, CautionPack } from "../job/types.ts";
import { LEVEL_WORDS } from "./caution_bar.tsx";

export function FirstMinute({ caution, pack }: { caution: Caution; pack: CautionPack }) {
  return (
    <section class={`first-minute ${caution.level}`}>
      <h2>
        {/* What is stopped is an item, and here may be a person or a room. */}
        {caution.level === "red" ? "Red" : LEVEL_WORDS[caution.level]}. {caution.name}
      </h2>
      <p class="lead">
        <strong>{caution.caution}</strong>
      </p>
      <ol>
        {caution.first_minute.map((step) => (
          <li key={step}>
            <StepWords step={step} emergency={pack.emergency} />
          </li>
        ))}
      </ol>
      {caution.level === "red" && !caution.first_minute.some(saysToCall) && (
        <p class="call">
          Somebody in danger or unwell: <strong class="number">{pack.emergency}</strong>
        </p>
      )}
    </section>
  );
}

const CALL = "emergency number";

function saysToCall(step: string) {
  return step.toLowerCase().includes(CALL);
}

/** A step, with the number itself in large type behind the words that send somebody to the telephone. */
export function StepWords({ step, emergency }: { step: string; emergency: string }) {
  const at = step.toLowerCase().indexOf(CALL);
  if (at < 0) return <>{step}</>;
  const end = at + CALL.length;
  return (
    <>
      {step.slice(0, end)} <strong class="number">{emergency}</strong>
      {step.slice(end)}
    </>
  );
}

export function Rules({ caution }: { caution: Caution }) {
  return (
    <dl class="facts">
      <Fact name="Staff may">{caution.may}</Fact>
      <Fact name="Staff may not">{caution.may_not}</Fact>
      <Fact name="Who decides">{caution.who}; local law and licensed people</Fact>
      <Fact name="Holds in">{caution.extent}</Fact>
      <Fact name="Rests on">
        {caution.basis}.{" "}
        {caution.checked_on ? `Checked on ${dateWords(caution.checked_on)}.` : "Nobody has checked this yet."}
      </Fact>
      {caution.checked_on && caution.unchecked && <Fact name="Not checked">{caution.unchecked}</Fact>}
    </dl>
  );
}

function Fact({ name, children }: { name: string; children: ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}
