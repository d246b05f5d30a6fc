/** Lengths of one thing in one phrase: "height by width of the plate 17.8 x 24.0 cm". */
import { inchesOf } from "./measures.ts";
import { type Shown, SMALL_MM, sizeInWords } from "./size_words.ts";

/** What a thing is measured in: two or three of them are told in one phrase. */
const DIMENSIONS = ["height", "length", "width", "depth"];
const BY = " by ";

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
  // Feet beside inches alone would be two units in one size.
  const inFeet = lengths.map(({ value }) => inchesOf(value, 16, true));
  const isAllFeet = inFeet.every((size) => size.includes(" ft"));
  const inches = isAllFeet ? inFeet : lengths.map(({ value }) => inchesOf(value, 16));
  // What it was measured of stands before the figures, how it was measured behind them.
  const isOfWhat = on.startsWith("of ");
  const name = [dimensionsOf(lengths), of, isOfWhat ? on : ""].filter(Boolean).join(" ");
  const size = `${name} ${withOneUnit(sizes)}${shown.inches ? ` (${withOneUnit(inches)})` : ""}`;
  return on && !isOfWhat ? `${size} ${on}` : size;
}

/** "40.5 x 61.0 cm": the unit once; feet with inches have theirs each. */
function withOneUnit(sizes: string[]) {
  if (sizes.some((size) => size.includes(" ft"))) return sizes.join(" x ");
  const unit = /\S+$/.exec(sizes[0] ?? "")?.[0] ?? "";
  return `${sizes.map((size) => size.slice(0, -unit.length - 1)).join(" x ")} ${unit}`;
}
