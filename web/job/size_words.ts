/** One size in words. */
import { countInWords } from "./english.ts";
import { centimetresOf, inchesOf, troyOuncesOf } from "./measures.ts";
import type { Measure } from "./types.ts";

export type Shown = { inches: boolean; troy_ounces: boolean; troy?: boolean };
/** Shorter lengths are in millimetres. */
export const SMALL_MM = 50;
const EVERY_UNIT: Shown = { inches: true, troy_ounces: true };

/** What is measured, without the advice to whoever measures. */
export function measureName({ print, words }: Measure) {
  return print ?? (words.split(/[;,(]/)[0] ?? "").replace(" in grams", "").trim();
}

/**
 * Centimetres, millimetres below `below_mm`, with inches beside them where the house has both; grams with troy ounces.
 */
export function sizeInWords(
  { value, unit }: { value: number; unit: string },
  { inches, troy_ounces, troy = false }: Shown = EVERY_UNIT,
  below_mm: number = SMALL_MM,
) {
  if (unit === "n") return countInWords(value);
  if (unit === "g") return `${inThousands(value)} g${troy && troy_ounces ? ` (${troyOuncesOf(value)})` : ""}`;
  return `${value < below_mm ? `${value} mm` : centimetresOf(value)}${inches ? ` (${inchesOf(value, 16, true)})` : ""}`;
}

/** "12,000": figures of five and more are told apart by threes. */
function inThousands(value: number) {
  const [whole = "", ...rest] = String(value).split(".");
  return [whole.length > 4 ? whole.replaceAll(/\B(?=(\d{3})+$)/g, ",") : whole, ...rest].join(".");
}
