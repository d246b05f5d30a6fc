/** Measures in the trade's order: metric or inches as typed, the other beside it. */
import { apartFromBasis, isBare, otherwise, unitLastTyped, withUnit } from "../../job/bare_sizes.ts";
import { asked } from "../../job/progress.ts";
import type { ItemRecord, Measure, Plan } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { enterGoesOn } from "../../parts/enter_goes_on.ts";
import { SizeField } from "../../parts/sizes.tsx";

export function Measures({ item, plan }: { item: ItemRecord; plan: Plan }) {
  const wanted = asked(plan, item, plan.measures);
  const shown = plan.measures.filter(
    (row) => wanted.includes(row) || fieldValue(item, `measures/${row.measure}`)?.value,
  );
  return (
    <section id="measures">
      <h2>Measured last: by now it is known where not to touch</h2>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the keys are those of the fields in it */}
      <div class="measures" onKeyDown={enterGoesOn}>
        {shown.map((measure) => (
          <Measured
            key={measure.measure}
            item={item}
            measure={measure}
            bare={unitLastTyped(item, plan.measures, measure.unit)}
          />
        ))}
      </div>
    </section>
  );
}

/** One measure and, where the trade asks for it, what was measured with it: gross or net, with or without the cover. */
function Measured({
  item,
  measure: { measure, unit, most, words, bases },
  bare,
}: {
  item: ItemRecord;
  measure: Measure;
  /** The unit of a number that has none. */
  bare: string;
}) {
  const item_id = item.record_id;
  const size = fieldValue(item, `measures/${measure}`);
  const basis = size?.basis ?? "";
  const sizeIn = (text: string) => apartFromBasis(text, bases).size;
  return (
    <div class="card measure">
      <SizeField
        of={measure}
        label={firstUpper(words)}
        unit={unit}
        most={most}
        size={size}
        full={(text) => withUnit(sizeIn(text), bare)}
        below={(text, write) =>
          bare &&
          isBare(sizeIn(text)) && (
            <p class="hint">
              Taken for <strong>{withUnit(sizeIn(text), bare)}</strong>, not{" "}
              <button type="button" class="chip" onClick={() => write(otherwise(sizeIn(text), bare))}>
                {otherwise(sizeIn(text), bare)}
              </button>
            </p>
          )
        }
        save={(typed, entered) => {
          const said = apartFromBasis(entered, bases).basis;
          return keep("record_measure", { item_id, measure, ...typed, basis: said || basis });
        }}
      />
      {size?.value && bases.length > 0 && (
        <Choice
          label={`What was ${unit === "g" ? "weighed" : "measured"}`}
          options={bases.map((words) => [words, words] as const)}
          value={basis || null}
          choose={(basis) => amend("record_measure", { item_id, measure, basis })}
        />
      )}
    </div>
  );
}
