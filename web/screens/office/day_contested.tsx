/**
 * What two managers said otherwise of a day, or two devices of what belongs to it, until one of them says which holds.
 */

import { unsettled } from "../../job/between.ts";
import { isSameClosing } from "../../job/closing_reasons.ts";
import { chosenAgainWords } from "../../job/contested_words.ts";
import { namesOn } from "../../job/day_facts.ts";
import type { DayRecord, Disagreement } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { sayDone } from "../../parts/notices.tsx";
import { TwoValues } from "../../parts/two_values.tsx";

export function Contested({ day }: { day: DayRecord }) {
  const closed = fieldValue(day, "closed");
  const open = unsettled(day).filter(
    ({ field, other }) =>
      !(closed && field === "closed" && isSameClosing(day, closed, other.value as typeof closed)),
  );
  if (!open.length) return null;
  const who = namesOn(day);
  return (
    <section>
      <h3>
        Two values <span class="count">{open.length}</span>
      </h3>
      {open.map((between) => (
        <TwoValues
          key={between.disagreement_id}
          between={between}
          record={day}
          who={who}
          settled={() => sayDone(settledWords(between))}
        />
      ))}
    </section>
  );
}

function settledWords({ field }: Disagreement) {
  return `It is settled. What the other said stays on record. ${chosenAgainWords(field)}`.trim();
}
