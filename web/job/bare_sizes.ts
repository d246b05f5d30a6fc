/** Sizes typed with no unit: what they are taken for, and what they may have been meant as. */
import { readLength, readWeight } from "./measures.ts";
import type { Measure, RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

type Unit = Measure["unit"];

/** The unit in which the house writes, where nobody typed one. */
const HOUSE: Record<Unit, string> = { mm: "mm", g: "g", n: "" };
/** What a figure is most often meant as, if not as what it was taken for. */
const OTHER: Record<string, string> = {
  ...{ mm: "cm", cm: "mm", m: "cm", in: "cm", ft: "in" },
  ...{ g: "oz t", "oz t": "g", oz: "g", lb: "g", kg: "g" },
};

export function isBare(text: string) {
  return /^\d+(?:[.,]\d+)?$/.test(text.trim());
}

/**
 * The unit last typed on this thing for sizes of this kind, else the house's. One beyond what its measure may be tells
 * nothing: it was most likely the unit that was wrong.
 */
export function unitLastTyped(record: RecordCopy, measures: readonly Measure[], unit: Unit): string {
  let last = { at: "", unit: HOUSE[unit] };
  for (const { id, value } of listed(record, "measures/")) {
    const { typed, value: size } = value;
    const most = measures.find(({ measure }) => measure === id)?.most ?? Infinity;
    if (value.unit !== unit || !typed || isBare(typed) || !size || size > most) continue;
    const read = unit === "g" ? readWeight(typed) : readLength(typed);
    const at = record.fields[`measures/${id}`]?.made_at ?? "";
    if (read && at >= last.at) last = { at, unit: read.unit };
  }
  return last.unit;
}

/** "14" as "14 cm" where centimetres were typed last; what bears its unit, and what is counted, stands as it is. */
export function withUnit(text: string, unit: string) {
  return unit && isBare(text) ? `${text.trim()} ${unit}` : text;
}

/** The same figure in the unit that it may have been meant in. */
export function otherwise(text: string, unit: string) {
  return withUnit(text, OTHER[unit] ?? "");
}

/**
 * A size and what was measured with it, where both were typed as one: "518 g gross", "net 16.7 oz t". `bases` are those
 * of its measure; without one of them at an end, the text stands as it is.
 */
export function apartFromBasis(text: string, bases: readonly string[]): { size: string; basis: string } {
  const plain = text.trim().replace(/[.,;\s]+$/, "");
  for (const basis of [...bases].sort((a, b) => b.length - a.length)) {
    const words = basis.replace(/[^\p{L}\d]+/gu, "\\W+");
    const found =
      new RegExp(`^(.*\\d.*?)[\\s,;:(]+${words}\\)?$`, "iu").exec(plain) ??
      new RegExp(`^${words}[\\s,;:]+(.*\\d.*)$`, "iu").exec(plain);
    if (found) return { size: found[1] ?? "", basis };
  }
  return { size: text, basis: "" };
}
