/** Lengths and weights as people type them, with what was understood beside them. */
import { useState } from "preact/hooks";
import { farOff, sizeOf } from "../job/bare_sizes.ts";
import { sizeInWords } from "../job/size_words.ts";
import { Typed } from "./controls.tsx";

export type Size = { value: number | null; unit: "mm" | "g" | "n"; typed: string };

const ASKED = { mm: "such as 12.5 cm, 125 mm, 4 7/8 in", g: "such as 518 g, 16.7 oz t", n: "" };
const WRONG = {
  mm: "a length such as 12.5 cm or 4 7/8 in",
  g: "a weight such as 518 g or 16.7 oz t",
  n: "a whole number",
};

/** A size is read whole: five and nine sixteenths are no five, and nine sixteenths below it. */
const unbroken = (sizes: string) => sizes.replaceAll(/(?<=\d|\d[/.]\d+) (?=\d|[a-z])/g, "\u00a0");

/** In words, after the millimetres unless another unit was typed: what was typed as 712 is 71.2 cm. */
function understood(value: number, unit: Size["unit"], typed: string) {
  const words = sizeInWords({ value, unit });
  return / cm\b/.test(words) && !/cm|in|["”″]/i.test(typed) ? `${value} mm: ${words}` : words;
}

const askedWhetherSo = (far: string) => `. That is ${far} for this. It is kept as it was typed: is it so?`;

/** A size; what is none is shown as such and not kept, and one that hardly can be is kept and asked about. */
export function SizeField({
  label,
  size,
  unit,
  least = null,
  most = Infinity,
  isSo = false,
  of,
  save,
  part = (text) => text,
  full = part,
  below,
}: {
  label: string;
  size: Size | null | undefined;
  unit: "mm" | "g" | "n";
  least?: number | null | undefined;
  most?: number;
  /** Somebody said that it is so large, or so small. */
  isSo?: boolean;
  of?: string;
  /** `entered` is all that was typed, with what is no part of the size. */
  save: (size: Size, entered: string) => Promise<unknown>;
  /** What was typed without what is no part of the size; it is kept so. */
  part?: (text: string) => string;
  /** The same with the unit that it is taken for. */
  full?: (text: string) => string;
  below?: Parameters<typeof Typed>[0]["below"];
}) {
  const [wrong, setWrong] = useState(false);
  const typed = async (entered: string) => {
    const value = sizeOf(full(entered), unit);
    const blank = entered.trim() === "";
    setWrong(value === null && !blank);
    if (value !== null || (blank && size?.value)) await save({ value, unit, typed: part(entered) }, entered);
  };
  const known = size?.value ?? null;
  const far = known !== null && !isSo && farOff(known, { least, most });
  const hint = wrong
    ? `This is not ${WRONG[unit]}; it is not kept yet.`
    : known === null
      ? unbroken(ASKED[unit])
      : `${unbroken(understood(known, unit, size?.typed ?? ""))}${far ? askedWhetherSo(far) : ""}`;
  return (
    <div class={wrong ? "is-wrong" : far ? "is-far" : ""}>
      <Typed label={label} hint={hint} value={size?.typed || (known ?? "")} {...{ of, below }} save={typed} />
    </div>
  );
}
