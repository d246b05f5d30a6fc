/** What a settlement said, in words. */
import { claimIn } from "./custody.ts";
import type { Lists } from "./list_words.ts";
import { shown } from "./tag.ts";
import type { Disagreement, Operation } from "./types.ts";
import { fieldWords, valueWords } from "./value_words.ts";

type Settled = Extract<Operation, { kind: "settle_disagreement" }>;

type Between = { disagreements: readonly Disagreement[]; lists: Lists };

/** Which of two values holds, and which does not; or that what came after both does. */
export function settledWords({ disagreement_id, choose, note }: Settled, { disagreements, lists }: Between) {
  const between = disagreements.find((disagreement) => disagreement.disagreement_id === disagreement_id);
  const why = note ? `: ${note}` : "";
  if (!between) return `said which of two values holds${why}`;
  const claim = claimIn(between);
  if (claim)
    return `said that the tag ${shown(claim.tag)} is on ${choose === "other" ? "this thing" : "the other thing"}${why}`;
  if (choose === "standing")
    return `said that the ${fieldWords(between.field, lists)} stays as it was set after both${why}`;
  const other = choose === "other" ? "kept" : "other";
  const [holds, not] = [between[choose].value, between[other].value].map((value) =>
    valueWords(value, between.field, lists),
  );
  return `said which ${fieldWords(between.field, lists)} holds: “${holds}”, not “${not}”${why}`;
}
