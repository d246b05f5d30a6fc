/** Measures in the trade's order: metric or inches as typed, the other beside it. */
import type { ItemRecord, Measure } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
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
          {plan.measures.map((measure) => (
            <Measured key={measure.measure} item={item} measure={measure} />
          ))}
        </>
      ) : (
        <p class="lead">The class decides what is measured.</p>
      )}
    </Frame>
  );
}

/** One measure and, where the trade asks for it, what was measured with it: gross or net, with or without the cover. */
function Measured({
  item,
  measure: { measure, unit, most, words, bases },
}: {
  item: ItemRecord;
  measure: Measure;
}) {
  const item_id = item.record_id;
  const size = fieldValue(item, `measures/${measure}`);
  const basis = size?.basis ?? "";
  return (
    <>
      <SizeField
        of={measure}
        label={firstUpper(words)}
        unit={unit}
        most={most}
        size={size}
        save={(typed) => keep("record_measure", { item_id, measure, ...typed, basis })}
      />
      {size?.value && bases.length > 0 && (
        <Choice
          label={`What was ${unit === "g" ? "weighed" : "measured"}`}
          options={bases.map((words) => [words, words] as const)}
          value={basis || null}
          choose={(words) => amend("record_measure", { item_id, measure, basis: words })}
        />
      )}
    </>
  );
}
