/** What was entered into a form that is no record yet, in words: what was chosen of a list stands there by its key. */
import type { SealContainer } from "./operations.ts";
import { firstUpper, spaced } from "./words.ts";

export const SEALS: readonly (readonly [SealContainer["state"], string])[] = [
  ["sealed", "Sealed now"],
  ["intact", "Intact at the check"],
  ["differs", "Number differs"],
  ["broken", "Broken"],
  ["opened", "Opened by two"],
];

/** The members of forms that hold what was chosen, never what was typed. */
const CHOSEN: ReadonlySet<string> = new Set([
  ...["state", "ended", "decision", "result", "term", "zone", "light", "certainty", "origin", "work"],
]);

/** A member of a form as a person reads it. */
export function enteredWords(member: string, value: string): string {
  if (member === "second_by") return `second person: ${value}`;
  if (!CHOSEN.has(member)) return value;
  return SEALS.find(([key]) => member === "state" && key === value)?.[1] ?? firstUpper(spaced(value));
}
