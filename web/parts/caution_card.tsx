/** What a caution says: the first minute in large type, then what staff may and may not do, and who decides. */

import type { ComponentChildren } from "preact";
import type { Caution, CautionPack } from "../job/types.ts";
import { LEVEL_WORDS } from "./caution_bar.tsx";

export function FirstMinute({ caution, pack }: { caution: Caution; pack: CautionPack }) {
  return (
    <section class={`first-minute ${caution.level}`}>
      <h2>
        {LEVEL_WORDS[caution.level]}. {caution.name}
      </h2>
      <p class="lead">
        <strong>{caution.caution}</strong>
      </p>
      <ol>
        {caution.first_minute.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      {caution.level === "red" && <p>Emergency number: {pack.emergency}</p>}
    </section>
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
        {caution.basis}. {checkedWords(caution)}
      </Fact>
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

/** When somebody last held the row to its sources, and what of it they could not. */
function checkedWords({ checked_on, unchecked }: Caution): string {
  if (!checked_on) return "Nobody has checked this yet.";
  return unchecked ? `Checked on ${checked_on}, but not: ${unchecked}.` : `Checked on ${checked_on}.`;
}
