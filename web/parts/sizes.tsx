/** Lengths and weights as people type them, with what was understood beside them. */
import { useState } from "preact/hooks";
import { readLength, readWeight } from "../job/measures.ts";
import { sizeInWords } from "../job/size_words.ts";
import { Typed } from "./controls.tsx";

export type Size = { value: number | null; unit: "mm" | "g" | "n"; typed: string };

/** What was typed as a size; null if it is none. */
function sizeOf(typed: string, unit: "mm" | "g" | "n"): number | null {
  if (unit === "g") return readWeight(typed)?.g ?? null;
  if (unit === "mm") return readLength(typed)?.mm ?? null;
  return /^[1-9]\d{0,5}$/.test(typed.trim()) ? Number(typed.trim()) : null;
}

const ASKED = { mm: "such as 12.5 cm, 125 mm, 4 7/8 in", g: "such as 518 g, 16.7 oz t", n: "" };
const WRONG = {
  mm: "a length such as 12.5 cm or 4 7/8 in",
  g: "a weight such as 518 g or 16.7 oz t",
  n: "a whole number",
};

/** In words, after the millimetres where these are others: what was typed as 712 is 71.2 cm. */
function understood(value: number, unit: Size["unit"]) {
  const words = sizeInWords({ value, unit });
  return / cm\b/.test(words) ? `${value} mm: ${words}` : words;
}

/** A size; what is none is shown as such and not kept, and one beyond `most` is kept and asked about. */
export function SizeField({
  label,
  size,
  unit,
  most = Infinity,
  of,
  save,
  full = (text) => text,
  below,
}: {
  label: string;
  size: Size | null | undefined;
  unit: "mm" | "g" | "n";
  most?: number;
  of?: string;
  /** `entered` is all that was typed, with what is no part of the size. */
  save: (size: Size, entered: string) => Promise<unknown>;
  /** What was typed with the unit that it is taken for, and without what is no part of the size. */
  full?: (text: string) => string;
  below?: Parameters<typeof Typed>[0]["below"];
}) {
  const [wrong, setWrong] = useState(false);
  const typed = async (entered: string) => {
    const text = full(entered);
    const value = sizeOf(text, unit);
    const blank = text.trim() === "";
    setWrong(value === null && !blank);
    if (value !== null || (blank && size?.value)) await save({ value, unit, typed: text }, entered);
  };
  const known = size?.value ?? null;
  const far = known !== null && known > most;
  const hint = wrong
    ? `This is not ${WRONG[unit]}; it is not kept yet.`
    : known === null
      ? ASKED[unit]
      : `${understood(known, unit)}${far ? ". That is a lot for this: look once more. It is kept as it stands" : ""}`;
  return (
    <div class={wrong ? "is-wrong" : far ? "is-far" : ""}>
      <Typed label={label} hint={hint} value={size?.typed || (known ?? "")} {...{ of, below }} save={typed} />
    </div>
  );
}
