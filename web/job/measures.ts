/**
 * Lengths and weights as people type them, and as they are shown.
 *
 * A length is kept in tenths of a millimetre and a weight in hundredths of a gram, beside the words and the unit as
 * typed; what is shown in another unit is computed for show and never read back. All reckoning is in whole numbers, so
 * that a half is rounded up and nothing drifts. Source: the yard and pound agreement of 1959 (1 in is 25.4 mm, 1 lb is
 * 453.59237 g); a troy ounce is 480 of the 7000 grains in a pound.
 */

/** Tenths of a micrometre. */
const LENGTHS: Record<string, bigint> = {
  mm: 10_000n,
  cm: 100_000n,
  m: 10_000_000n,
  in: 254_000n,
  ft: 3_048_000n,
};
/** Nanograms. */
const WEIGHTS: Record<string, bigint> = {
  g: 1_000_000_000n,
  kg: 1_000_000_000_000n,
  oz: 28_349_523_125n,
  "oz t": 31_103_476_800n,
  lb: 453_592_370_000n,
};

/** How each unit may be written. */
const LENGTH_SIGNS: Record<string, string> = {
  mm: "mm|millimet(?:re|er)s?",
  cm: "cms?|centimet(?:re|er)s?",
  m: "m|met(?:re|er)s?",
  in: "in|ins|inch|inches|\"|''",
  ft: "ft|foot|feet|'",
};
const WEIGHT_SIGNS: Record<string, string> = {
  "oz t": "ozt|oz t|oz troy|troy oz|troy ounces?|ounces? troy",
  oz: "oz|ounces?",
  kg: "kgs?|kilos?|kilograms?",
  g: "g|gms?|grams?",
  lb: "lbs?|pounds?",
};
/**
 * What may follow a whole number of a unit: the smaller unit, how many make one of the larger, and whether it may go
 * unsaid.
 */
const SMALLER: Record<string, [string, bigint, boolean][]> = {
  ft: [["in", 12n, true]],
  m: [
    ["cm", 100n, true],
    ["mm", 1000n, false],
  ],
  lb: [["oz", 16n, true]],
};
const FRACTION_SIGNS: Record<string, string> = {
  "½": "1/2",
  "¼": "1/4",
  "¾": "3/4",
  "⅓": "1/3",
  "⅔": "2/3",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};
const INCH = 254_000;
const TROY_OUNCE = 311_034_768; // in tenths of a microgram
const FEET_FROM_INCHES = 36;

/** A number as a fraction. */
export type Exact = { top: bigint; bottom: bigint };

/**
 * A length in millimetres to the tenth, half up. A bare number is millimetres; a bare fraction is nothing, since it may
 * be inches. Null for what is no length, for less than a twentieth of one, and for "1,200", which may be a thousand.
 */
export function readLength(
  text: string,
): { mm: number; unit: "mm" | "cm" | "m" | "in" | "ft"; typed: string } | null {
  const read = quantity(text, LENGTH_SIGNS, LENGTHS, "mm");
  const tenths = read && rounded(read.size, 1_000n);
  return tenths ? { mm: tenths / 10, unit: read.unit as "mm" | "cm" | "m" | "in" | "ft", typed: text } : null;
}

/**
 * A weight in grams to the hundredth, half up. A bare number is grams, and "oz" alone the ounce of the pound, never
 * the troy ounce. Null as for lengths.
 */
export function readWeight(
  text: string,
): { g: number; unit: "g" | "kg" | "oz" | "oz t" | "lb"; typed: string } | null {
  const read = quantity(text, WEIGHT_SIGNS, WEIGHTS, "g");
  const hundredths = read && rounded(read.size, 10_000_000n);
  return hundredths
    ? { g: hundredths / 100, unit: read.unit as "g" | "kg" | "oz" | "oz t" | "lb", typed: text }
    : null;
}

/**
 * A length in inches to the nearest fraction, half up and reduced: "7 1/4 in".
 * above nought, exact to a tenth of a micrometre
 * the fraction's largest denominator, a power of two
 * whether to say feet and inches from 36 inches on
 */
export function inchesOf(mm: number, step: number = 16, feet: boolean = false) {
  const steps = Math.floor((2 * Math.round(mm * 10_000) * step + INCH) / (2 * INCH));
  if (steps === 0) return `under ${step === 1 ? "1" : `1/${step}`} in`;
  if (!feet || steps < FEET_FROM_INCHES * step) return `${inchWords(steps, step)} in`;
  const over = steps % (12 * step);
  return `${Math.floor(steps / (12 * step))} ft${over ? ` ${inchWords(over, step)} in` : ""}`;
}

/** Inches with a reduced fraction. */
function inchWords(steps: number, step: number) {
  const whole = Math.floor(steps / step);
  let [top, bottom] = [steps % step, step];
  if (top === 0) return String(whole);
  while (top % 2 === 0 && bottom % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${whole ? `${whole} ` : ""}${top}/${bottom}`;
}

/**
 * A length in centimetres to one decimal, half up: "25.4 cm".
 * above nought
 */
export function centimetresOf(mm: number) {
  const whole = Math.floor((Math.round(mm * 10_000) + 5_000) / 10_000);
  return whole === 0 ? "under 0.1 cm" : `${Math.floor(whole / 10)}.${whole % 10} cm`;
}

/**
 * A weight in troy ounces to one decimal, half up: "16.7 oz t".
 * above nought
 */
export function troyOuncesOf(g: number) {
  const tenths = Math.floor((20 * Math.round(g * 10_000_000) + TROY_OUNCE) / (2 * TROY_OUNCE));
  return tenths === 0 ? "under 0.1 oz t" : `${Math.floor(tenths / 10)}.${tenths % 10} oz t`;
}

/** What was typed as an exact size in the table's own small unit, with the larger unit named. */
function quantity(
  text: string,
  signs: Record<string, string>,
  sizes: Record<string, bigint>,
  bare: string,
): { size: Exact; unit: string } | null {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/[′’]/g, "'")
    .replace(/[″”]/g, '"')
    .replace(/⁄/g, "/")
    .replace(/[½¼¾⅓⅔⅛⅜⅝⅞]/g, (sign) => ` ${FRACTION_SIGNS[sign]}`)
    .replace(/\s+/g, " ")
    .trim();
  if (/^\d+(?:[.,]\d+)?$/.test(plain)) return sized(numberIn(plain), bare, sizes);
  for (const [unit, sign] of Object.entries(signs)) {
    const single = new RegExp(`^([\\d.,/ -]+?) ?(?:${sign})\\.?$`).exec(plain);
    if (single) return sized(numberIn(single[1] ?? ""), unit, sizes);
    const double = new RegExp(`^(\\d{1,6}) ?(?:${sign})\\.?[ ,]*(\\d.*)$`).exec(plain);
    const both = double && withSmaller(double[1] ?? "", unit, double[2] ?? "", signs, sizes);
    if (both) return { size: both, unit };
  }
  return null;
}

/**
 * Feet with inches, metres with centimetres, pounds with ounces; null if the smaller part would make a whole larger
 * one.
 */
function withSmaller(
  larger: string,
  unit: string,
  rest: string,
  signs: Record<string, string>,
  sizes: Record<string, bigint>,
): Exact | null {
  for (const [small, most, unsaid] of SMALLER[unit] ?? []) {
    const found = new RegExp(`^([\\d.,/ -]+?)(?: ?(?:${signs[small]})\\.?)${unsaid ? "?" : ""}$`).exec(rest);
    const part = found && numberIn(found[1] ?? "");
    if (!part) continue;
    if (part.top >= most * part.bottom) return null;
    return {
      top: BigInt(larger) * size(unit, sizes) * part.bottom + part.top * size(small, sizes),
      bottom: part.bottom,
    };
  }
  return null;
}

function size(unit: string, sizes: Record<string, bigint>) {
  return sizes[unit] as bigint;
}

function sized(number: Exact | null, unit: string, sizes: Record<string, bigint>) {
  return number && { size: { top: number.top * size(unit, sizes), bottom: number.bottom }, unit };
}

/** A whole number, a decimal with a point or a comma, a fraction, or a whole number and a fraction. */
function numberIn(text: string): Exact | null {
  const decimal = /^(\d{1,6})(?:([.,])(\d{1,6}))?$/.exec(text);
  if (decimal) {
    const [, whole = "", sign, digits = ""] = decimal;
    if (sign === "," && digits.length === 3 && Number(whole) > 0) return null; // may group thousands
    return { top: BigInt(whole + digits), bottom: 10n ** BigInt(digits.length) };
  }
  const fraction = /^(?:(\d{1,6})[ -])?(\d{1,3})\/(\d{1,3})$/.exec(text);
  if (!fraction) return null;
  const [top, bottom] = [BigInt(fraction[2] ?? ""), BigInt(fraction[3] ?? "")];
  if (bottom === 0n || (fraction[1] && top >= bottom)) return null;
  return { top: BigInt(fraction[1] ?? "0") * bottom + top, bottom };
}

/** In whole units, half up. */
function rounded({ top, bottom }: Exact, unit: bigint) {
  return Number((2n * top + unit * bottom) / (2n * unit * bottom));
}
