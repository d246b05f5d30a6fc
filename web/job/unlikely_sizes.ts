/** Sizes on record that such a thing hardly ever has, or that cannot both be: mostly another unit than was meant. */
import { farOff } from "./bare_sizes.ts";
import { measureName, sizeInWords } from "./size_words.ts";
import type { Measure, Plan, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";
import { worded } from "./worded.ts";

/** A line for each, as whoever describes the thing is asked: "height 25 mm (1 in), which is little for one". */
export function unlikelySizes(plan: Plan, record: RecordCopy): string[] {
  return plan.measures.flatMap((row) => {
    const size = sizeOn(record, row);
    if (size === null) return [];
    const far = farOff(size, row);
    const more = moreThanWhole(plan, record, row);
    const named = `${measureName(worded(plan, record, row))} ${sizeInWords({ value: size, unit: row.unit })}`;
    return [
      ...(far ? [`${named}, which is ${far} for such a thing`] : []),
      ...(more ? [`${named}, which is more than the ${more}`] : []),
    ];
  });
}

/** The size that this one lies within and is more than: "height with frame, 56.0 cm (22 in)"; "" if it is not. */
export function moreThanWhole(plan: Plan, record: RecordCopy, row: Measure): string {
  const whole = plan.measures.find(({ measure }) => measure === row.within);
  const [size, most] = [sizeOn(record, row), whole ? sizeOn(record, whole) : null];
  if (!whole || size === null || most === null || size <= most) return "";
  return `${measureName(worded(plan, record, whole))}, ${sizeInWords({ value: most, unit: whole.unit })}`;
}

function sizeOn(record: RecordCopy, { measure, unit }: Measure): number | null {
  const size = fieldValue(record, `measures/${measure}`);
  return size?.value && size.unit === unit ? size.value : null;
}
