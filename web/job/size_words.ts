/** One size in words, and what it is of. */
import { countInWords } from "./english.ts";
import { centimetresOf, inchesOf, troyOuncesOf } from "./measures.ts";
import type { Measure } from "./types.ts";

type Shown = { inches: boolean; troy_ounces: boolean; troy?: boolean };
/** Shorter lengths are in millimetres. */
export const SMALL_MM = 50;
/** What a thing is measured in: two or three of them are told in one phrase. */
const DIMENSIONS = ["height", "length", "width", "depth"];
const BY = " by ";
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

/** "height of the plate", sight size: its dimension, what it is of, and on which basis. */
export type Length = { dimension: string; of: string; value: number; on: string; below_mm: number };

export function lengthOf(
  name: string,
  { value, on, below_mm }: Pick<Length, "value" | "on" | "below_mm">,
): Length | null {
  const [dimension = "", ...of] = name.split(" ");
  return [...DIMENSIONS, "diameter"].includes(dimension)
    ? { dimension, of: of.join(" "), value, on, below_mm }
    : null;
}

/** "height by width" */
export function dimensionsOf(lengths: Length[]) {
  return lengths.map(({ dimension }) => dimension).join(BY);
}

/** Whether each is another dimension of the same thing, in the same unit, and large enough for each unit. */
export function areOfOneThing(lengths: (Length | null)[]): lengths is Length[] {
  const known = lengths.flatMap((length) =>
    length && DIMENSIONS.includes(length.dimension) ? [length] : [],
  );
  const isSame = ({ of, on, value, below_mm }: Length) =>
    of === known[0]?.of && on === known[0]?.on && value < below_mm === known[0]?.value < below_mm;
  const dimensions = new Set(known.map(({ dimension }) => dimension));
  return (
    known.length === lengths.length &&
    dimensions.size === known.length &&
    known.every((length) => isSame(length) && length.value >= 1)
  );
}

/** "height by width of the plate 17.8 x 24.0 cm (7 x 9 7/16 in) sight size" */
export function lengthsInWords(lengths: Length[], shown: Shown): string {
  const [{ of, on, below_mm } = { of: "", on: "", below_mm: SMALL_MM }] = lengths;
  const sizes = lengths.map(({ value }) =>
    sizeInWords({ value, unit: "mm" }, { ...shown, inches: false }, below_mm),
  );
  const inches = lengths.map(({ value }) => inchesOf(value, 16, true));
  const name = [dimensionsOf(lengths), of].filter(Boolean).join(" ");
  const size = `${name} ${withOneUnit(sizes)}${shown.inches ? ` (${withOneUnit(inches)})` : ""}`;
  return on ? `${size} ${on}` : size;
}

/** "40.5 x 61.0 cm": the unit once; feet with inches have theirs each. */
function withOneUnit(sizes: string[]) {
  if (sizes.some((size) => size.includes(" ft"))) return sizes.join(" x ");
  const unit = /\S+$/.exec(sizes[0] ?? "")?.[0] ?? "";
  return `${sizes.map((size) => size.slice(0, -unit.length - 1)).join(" x ")} ${unit}`;
}
