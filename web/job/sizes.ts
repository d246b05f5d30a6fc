/** The sizes and counts of a lot in print, in the plan's order, which is the trade's. */
import { fittingIn } from "./called.ts";
import { countInWords, listInWords } from "./english.ts";
import type { Size } from "./fields.ts";
import { zoneNameOf } from "./places.ts";
import { type Part, type Sentence, sentence, withoutStop } from "./sentences.ts";
import { measureName, SMALL_MM, sizeInWords } from "./size_words.ts";
import type { Measure, Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/** Beside longer ones, shorter lengths are in millimetres below this, so that one list has one unit. */
const TINY_MM = 10;

/**
 * What was measured, each with its words: "height 15.5 cm with cover", "weight 518 g gross". In a `lot` whoever
 * measured may have noted of what: "(without the lid)".
 */
export function sizeWords(
  plan: Plan | null,
  book: PlanBook,
  record: RecordCopy,
  of: "lot" | "answer" = "answer",
): Part[] {
  const known = plan?.measures ?? [];
  const others = listed(record, "measures/")
    .filter(({ id }) => !known.some(({ measure }) => measure === id))
    .map(({ id, value }) => unknownMeasure(id, value))
    .sort((a, b) => a.measure.localeCompare(b.measure));
  const taken = [...known, ...others].flatMap((measure) => {
    const size = fieldValue(record, `measures/${measure.measure}`);
    return size?.value ? [{ measure, size, value: size.value }] : [];
  });
  const isLarge = taken.some(({ size, value }) => size.unit === "mm" && value >= SMALL_MM);
  return taken.map(({ measure, size, value }) => {
    const words = measureInWords(measure, size, value, book, record, isLarge ? TINY_MM : SMALL_MM);
    const noted = of === "lot" ? noteOn(plan, record, measure) : null;
    const field = `measures/${measure.measure}`;
    return noted
      ? { words: `${words} (${noted.note})`, from: [field, noted.field] }
      : { words, from: [field] };
  });
}

/** What was noted of the test that took a measure alone. */
function noteOn(plan: Plan | null, record: RecordCopy, { measure }: Measure) {
  const test = plan?.tests.find(({ measures }) => measures.length === 1 && measures.includes(measure))?.test;
  const made = test && fieldValue(record, `tests/${test}`);
  const note = made && made.result === "works" ? withoutStop(made.note) : "";
  return note ? { note, field: `tests/${test}` } : null;
}

/** One measure as a sentence; none if nobody took it. */
export function measureSentence(plan: Plan, book: PlanBook, record: RecordCopy, measure: string): Sentence[] {
  return sizeWords(plan, book, record)
    .filter(({ from }) => from[0] === `measures/${measure}`)
    .map((part) => sentence(part.words, part.from, [sizeKey(part)]));
}

/** What a sentence speaks of that tells a size, or a number of things: `sizes/height`, `counted/hands`. */
export function sizeKey({ from }: Part) {
  return (from[0] ?? "").replace("measures/", "sizes/");
}

export function countKey({ from }: Part) {
  return (from[0] ?? "").replace("zones/", "counted/");
}

function unknownMeasure(measure: string, { unit }: Size): Measure {
  return {
    measure,
    unit,
    most: Infinity,
    words: measure.replaceAll("-", " "),
    print: null,
    bases: [],
    of: [],
    troy: false,
  };
}

function measureInWords(
  measure: Measure,
  { unit, basis }: Size,
  value: number,
  book: PlanBook,
  record: RecordCopy,
  below_mm: number,
) {
  const name = nameOn(measure, record);
  const on = basis?.trim() ?? "";
  if (unit === "n") {
    const counted = value === 1 ? (measure.one ?? name) : name;
    return [countInWords(value), counted, on].filter(Boolean).join(" ");
  }
  if (measure.read_off) return `${name} ${value} mm${on ? ` ${on}` : ""}`;
  const size = sizeInWords({ value, unit }, { ...book.print.sizes, troy: measure.troy }, below_mm);
  // A weight without it may be anybody's guess of what was on the scale, so that is said.
  const open =
    unit === "g" && measure.bases.length && !on
      ? `, whether ${listInWords(measure.bases, "or")} not noted`
      : "";
  return `${name} ${size}${on ? ` ${on}` : ""}${open}`;
}

/** What is measured, by what that is called on such a thing. */
export function nameOn(measure: Measure, record: RecordCopy) {
  return fittingIn(measure.called, record)?.print ?? measureName(measure);
}

/** What a count that falls short speaks of: fewer plates are there than the book should have. */
export function shortCounts({ plan, record }: { plan: Plan; record: RecordCopy }): Measure[] {
  const countOf = (measure: string | null | undefined) =>
    measure ? fieldValue(record, `measures/${measure}`)?.value : undefined;
  return plan.measures.filter(({ measure, short_of }) => {
    const [counted, whole] = [countOf(measure), countOf(short_of)];
    return typeof counted === "number" && typeof whole === "number" && counted < whole;
  });
}

/** What was counted on zones: "three hands", "23 pieces". */
export function countWords(plan: Plan | null, book: PlanBook, record: RecordCopy): Part[] {
  return (plan?.zones ?? []).flatMap(({ zone }) => {
    const state = fieldValue(record, `zones/${zone}`);
    if (!state?.count || state.state === "not-examined") return [];
    const name = zoneNameOf(book, zone);
    const [single, many] = name.counted ?? [name.one, name.many ?? name.one];
    return [
      { words: `${countInWords(state.count)} ${state.count === 1 ? single : many}`, from: [`zones/${zone}`] },
    ];
  });
}
