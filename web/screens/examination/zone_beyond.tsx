/** What was found on a zone that the class of a thing does not have: it stays on record, and is put right here. */

import { zoneName } from "../../job/progress.ts";
import { firstUpper } from "../../job/words.ts";
import { shortName } from "../../parts/class_drawing.tsx";
import { Frame } from "../../parts/frame.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { StateMark } from "../../parts/zone_marks.tsx";
import { Finding } from "./finding_fields.tsx";
import type { ZoneGiven } from "./zone.tsx";
import { zoneAddress } from "./zone_steps.ts";

export function ZoneBeyond({ item, plan, book, step }: Omit<ZoneGiven, "steps" | "go">) {
  const list = `#/item/${item.record_id}/zones`;
  return (
    <Frame
      title={firstUpper(zoneName(step.key))}
      back={list}
      item_id={item.record_id}
      action={<TieOn href={list}>On to the zones</TieOn>}
    >
      <p class="lead">{shortName(plan)} have no such zone; it was another class's.</p>
      <p class="hint">
        What was found there stays on record and in the words. Withdraw it under “More” where it is not so, or
        belongs on another zone, and say it there.
      </p>
      {step.findings.map(({ id, value }) => (
        <Finding key={id} id={id} value={value} item={item} plan={plan} book={book} step={step} />
      ))}
    </Frame>
  );
}

type BeyondOf = { item_id: string; plan: ZoneGiven["plan"]; steps: ZoneGiven["steps"] };

/** The rows of such zones, below those of the class. */
export function RowsBeyond({ item_id, plan, steps }: BeyondOf) {
  if (!steps.length) return null;
  return (
    <section>
      <h2>Found before it was among {shortName(plan)}</h2>
      <ol class="zones">
        {steps.map((step) => (
          <li key={step.key}>
            <a class="row" href={zoneAddress(item_id, step.key)}>
              <span class="what">
                {zoneName(step.key)}
                <small>{step.findings.map(({ value }) => value.term.replaceAll("-", " ")).join(", ")}</small>
              </span>
              <StateMark said={step.state} />
            </a>
          </li>
        ))}
      </ol>
    </section>
  );
}
