/** Two values of one field, in words: what they are of, and how a settlement on the wrong one is put right. */

import type { ValueAt } from "./fields.ts";
import { NO_LISTS } from "./list_words.ts";
import type { Person } from "./operations.ts";
import type { Disagreement } from "./types.ts";
import { fieldWords } from "./value_words.ts";

/** What two people said otherwise, as the middle of a sentence: of whom, where it is somebody of the day's list. */
export function contestedWords(
  { field, kept }: Pick<Disagreement, "field" | "kept">,
  lists = NO_LISTS,
): string {
  if (field === "closed") return "how the day was closed";
  if (field.startsWith("people/")) return `what the day's list says of ${(kept.value as Person).name}`;
  if (field.startsWith("tables/")) return `the table called ${(kept.value as ValueAt<"tables/">).name}`;
  return fieldWords(field, lists);
}

/** What is set by moving or merging things, or once for all, and not by entering it again. */
const NOT_ENTERED: ReadonlySet<string> = new Set(["closed", "merged", "inside", "whereabouts"]);
const ENTERED = /^(people|tables|roll-holders|consignor|zones|tests|measures)\//;

/**
 * Where a settlement on the wrong one is put right, as a sentence: a field that is entered can be entered again, and
 * both values stay on record. "" of what is not; nothing brings the question itself back.
 */
export function chosenAgainWords(field: string): string {
  const isEntered = field.includes("/") ? ENTERED.test(field) : !NOT_ENTERED.has(field);
  return isEntered ? "If it was the other one, enter that again where it stands." : "";
}
