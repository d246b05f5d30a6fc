/** Measures in the trade's order: metric or inches as typed, the other beside it. */
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { SizeField } from "../../parts/sizes.tsx";
import { usePlan, useRecord } from "../../parts/use.ts";

export default function Measures({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined)
    return (
      <Frame title="Measures" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  return (
    <Frame
      title="Measures"
      back={back}
      item_id={item.record_id}
      action={<NextStep item={item} here="/measures" />}
    >
      {plan ? (
        <>
          <p class="frame-note">Measure last: by now it is known where not to touch.</p>
          {plan.measures.map(({ measure, unit, most, words }) => (
            <SizeField
              key={measure}
              of={measure}
              label={firstUpper(words)}
              unit={unit}
              most={most}
              size={fieldValue(item, `measures/${measure}`)}
              save={(size) => keep("record_measure", { item_id, measure, ...size })}
            />
          ))}
        </>
      ) : (
        <p class="lead">The class decides what is measured.</p>
      )}
    </Frame>
  );
}
