/** Measures in the trade's order: metric or inches as typed, the other beside it. */

import {
  apartFromBasis,
  farOff,
  isBare,
  meantPerhaps,
  otherwise,
  unitKept,
  unitLastTyped,
  unitOfBare,
  withUnit,
} from "../../job/bare_sizes.ts";
import { asked } from "../../job/progress.ts";
import type { ItemRecord, Measure, Plan } from "../../job/types.ts";
import { moreThanWhole } from "../../job/unlikely_sizes.ts";
import { fieldValue } from "../../job/values.ts";
import { worded } from "../../job/worded.ts";
import { firstUpper } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { enterGoesOn } from "../../parts/enter_goes_on.ts";
import { type Size, SizeField } from "../../parts/sizes.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { inPieces } from "../../parts/with_words.ts";

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
            measure={worded(plan, item, measure)}
            more={moreThanWhole(plan, item, measure)}
            bare={unitLastTyped(item, plan.measures, measure.unit, sizesIn(plan, measure.unit))}
          />
        ))}
      </div>
    </section>
  );
}

/** The unit in which people write the sizes of a class; plans of before say none. */
function sizesIn(plan: Plan, unit: Measure["unit"]) {
  return unit === "mm" ? plan.sizes_in : undefined;
}

/** One measure and, where the trade asks for it, what was measured with it: gross or net, with or without the cover. */
function Measured({
  item,
  measure: row,
  more,
  bare,
}: {
  item: ItemRecord;
  measure: Measure;
  /** What it lies within and is more than; "" if it is not. */
  more: string;
  /** The unit at hand for a number that has none. */
  bare: string;
}) {
  const item_id = item.record_id;
  const { measure, unit, least, most, words, bases } = row;
  const size = fieldValue(item, `measures/${measure}`);
  const basis = size?.basis ?? "";
  const onWhat = [...bases, ...((unit === "mm" && inPieces.value?.measuredOf(item)) || [])];
  const sizeIn = (text: string) => apartFromBasis(text, bases).size;
  const { form, set } = useHeld(`size so ${item_id} ${measure}`, { typed: "" });
  const isSo = Boolean(size?.typed) && form.typed === size?.typed;
  return (
    <div class={onWhat.length ? "card measure wide-one" : "card measure"}>
      <SizeField
        of={measure}
        label={firstUpper(words)}
        {...{ unit, least, most, size, isSo }}
        part={sizeIn}
        full={(text) => withUnit(sizeIn(text), unitOfBare(sizeIn(text), bare, row))}
        below={(text, write) => (
          <Meant {...{ text: sizeIn(text), row, size, bare, write, isSo }} so={set("typed")} />
        )}
        save={(typed, entered) => {
          const said = apartFromBasis(entered, bases).basis;
          return keep("record_measure", { item_id, measure, ...typed, basis: said || basis });
        }}
      />
      {more && <p class="hint">More than the {more}: one of the two is wrong. Measure again.</p>}
      {size?.value && onWhat.length > 0 && (
        <Choice
          label={`What was ${unit === "g" ? "weighed" : "measured"}`}
          options={onWhat.map((words) => [words, words] as const)}
          value={basis || null}
          choose={(basis) => amend("record_measure", { item_id, measure, basis })}
        />
      )}
    </div>
  );
}

type MeantOf = {
  text: string;
  row: Measure;
  size: Size | null | undefined;
  bare: string;
  write: (text: string) => void;
  isSo: boolean;
  so: (typed: string) => Promise<void>;
};

/** What a number with no unit was kept as, and once whether a size that hardly can be is so. */
function Meant({ text, row, size, bare, write, isSo, so }: MeantOf) {
  const kept = size?.value && size.typed === text ? size.value : null;
  if (kept && !isSo && farOff(kept, row)) {
    const other = meantPerhaps(text, row);
    return (
      <p class="chips">
        {other && (
          <button type="button" class="chip" onClick={() => write(other)}>
            No: {other}
          </button>
        )}
        <button type="button" class="chip" onClick={() => so(text)}>
          It is so
        </button>
      </p>
    );
  }
  if (!isBare(text)) return null;
  const unit = unitKept(text, size, row.unit) ?? unitOfBare(text, bare, row);
  if (!unit) return null;
  const other = otherwise(text, unit, bare);
  return (
    <p class="hint">
      Taken for <strong>{withUnit(text, unit)}</strong>, not{" "}
      <button type="button" class="chip" onClick={() => write(other)}>
        {other}
      </button>
    </p>
  );
}
