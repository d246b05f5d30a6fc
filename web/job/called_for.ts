/**
 * What the words of a thing's name call for: another class than the one it has, or a caution. Both are offered, and a
 * person says so. The words are the house's, in its data.
 */

import { sameThing } from "./cautions.ts";
import type { Caution, CautionPack, PlanBook, RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

const wordsOf = (name: string): string[] => name.toLowerCase().match(/[\p{L}-]+/gu) ?? [];

/** The class that a word of the name speaks for, with that word; none where one speaks for the class that it has. */
export function otherClassNamed(
  { classes }: Pick<PlanBook, "classes">,
  class_id: string,
  name: string,
): { class_id: string; word: string } | null {
  const words = wordsOf(name);
  const speaksFor = (id: string) => words.find((word) => classes[id]?.named?.includes(word));
  if (!class_id || speaksFor(class_id)) return null;
  const other = Object.keys(classes).find(speaksFor);
  return other ? { class_id: other, word: speaksFor(other) ?? "" } : null;
}

/** The rows that a word of the name calls for and that nobody has raised on it, each with that word. */
export function cautionsNamed(
  { cautions }: Pick<CautionPack, "cautions">,
  item: RecordCopy | undefined,
  name: string,
): { row: Caution; word: string }[] {
  const words = wordsOf(name);
  const raised = item
    ? sameThing(item).flatMap((on) => listed(on, "cautions/").map(({ value }) => value.hazard))
    : [];
  return cautions.flatMap((row) => {
    const word = words.find((one) => row.named?.includes(one));
    const isOther = words.some((one) => row.not_named?.includes(one));
    return word && !isOther && !raised.includes(row.hazard) ? [{ row, word }] : [];
  });
}
