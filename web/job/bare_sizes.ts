/** Sizes typed with no unit: what they are taken for, and what they may have been meant as. */
import { readLength, readWeight } from "./measures.ts";
import type { Measure, RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

type Unit = Measure["unit"];
/** How large what is measured can be. Plans of before say nothing of the least. */
type Bounds = Pick<Measure, "unit" | "most"> & { least?: number | null | undefined };

/** The unit in which a house writes, where nobody typed one and the class has none of its own. */
const HOUSE: Record<Unit, string> = { mm: "mm", g: "g", n: "" };
/** Which units a bare number may be in, after that of its neighbours and its class: the first that it can be. */
const TRIED: Record<Unit, readonly string[]> = { mm: ["cm", "mm", "m"], g: ["g"], n: [] };
/** What a figure is most often meant as, if not as what it was taken for. */
const OTHER: Record<string, string> = {
  ...{ mm: "cm", cm: "mm", m: "cm", in: "cm", ft: "in" },
  ...{ g: "oz t", "oz t": "g", oz: "g", lb: "g", kg: "g" },
};

export function isBare(text: string) {
  return /^\d+(?:[.,]\d+)?$/.test(text.trim());
}

/** What was typed as a size; null if it is none. */
export function sizeOf(typed: string, unit: Unit): number | null {
  if (unit === "g") return readWeight(typed)?.g ?? null;
  if (unit === "mm") return readLength(typed)?.mm ?? null;
  return /^[1-9]\d{0,5}$/.test(typed.trim()) ? Number(typed.trim()) : null;
}

/** Why a size is asked about: hardly any such thing is so small or so large. */
export function farOff(value: number, { least, most }: Omit<Bounds, "unit">): "" | "little" | "a lot" {
  return value > most ? "a lot" : least && value < least ? "little" : "";
}

/**
 * The unit last typed on this thing for sizes of this kind, else that of its class. One beyond what its measure may be
 * tells nothing: it was most likely the unit that was wrong.
 */
export function unitLastTyped(
  record: RecordCopy,
  measures: readonly Measure[],
  unit: Unit,
  usual: string = HOUSE[unit],
): string {
  let last = { at: "", unit: usual };
  for (const { id, value } of listed(record, "measures/")) {
    const { typed, value: size } = value;
    const measure = measures.find((known) => known.measure === id) ?? { most: Infinity };
    if (value.unit !== unit || !typed || isBare(typed) || !size || farOff(size, measure)) continue;
    const read = unit === "g" ? readWeight(typed) : readLength(typed);
    const at = record.fields[`measures/${id}`]?.made_at ?? "";
    if (read && at >= last.at) last = { at, unit: read.unit };
  }
  return last.unit;
}

/** The unit that a bare number is taken in: the one at hand, if such a thing can be so large in it. */
export function unitOfBare(text: string, atHand: string, measure: Bounds): string {
  const { unit } = measure;
  const fits = (tried: string) => {
    const value = sizeOf(withUnit(text, tried), unit);
    return value !== null && !farOff(value, measure);
  };
  return [atHand, ...TRIED[unit]].find((tried) => tried && fits(tried)) ?? atHand;
}

/**
 * The unit in which a bare number was kept, whatever was typed beside it since; null if it is no bare number, or not
 * the one that was kept.
 */
export function unitKept(
  text: string,
  size: { value: number | null; typed: string } | null | undefined,
  unit: Unit,
) {
  if (!size?.value || size.typed.trim() !== text.trim() || !isBare(text)) return null;
  return Object.keys(OTHER).find((known) => sizeOf(withUnit(text, known), unit) === size.value) ?? null;
}

/** "14" as "14 cm" where centimetres were typed last; what bears its unit, and what is counted, stands as it is. */
export function withUnit(text: string, unit: string) {
  return unit && isBare(text) ? `${text.trim()} ${unit}` : text;
}

/** The same figure in the unit that it may have been meant in: that of its neighbours, where it was kept in another. */
export function otherwise(text: string, unit: string, atHand = unit) {
  return withUnit(text, (atHand === unit ? OTHER[unit] : atHand) ?? "");
}

/** The same figure in a unit in which such a thing can be so large; "" if there is none. */
export function meantPerhaps(text: string, measure: Bounds): string {
  const figure = /^(\d+(?:[.,]\d+)?)\s*[a-z]*\.?$/i.exec(text.trim())?.[1];
  if (!figure) return "";
  const tried = TRIED[measure.unit].map((unit) => withUnit(figure, unit));
  return (
    tried.find((words) => {
      const value = sizeOf(words, measure.unit);
      return value !== null && !farOff(value, measure);
    }) ?? ""
  );
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
