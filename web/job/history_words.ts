/**
 * What an operation did, with what it names looked up: a history shows no id and no code. Without anything to look up
 * in it says the same as on the device that made it.
 */

import { claimIn } from "./custody.ts";
import { className, type Lists } from "./list_words.ts";
import { operationWords } from "./operation_words.ts";
import { shown } from "./tag.ts";
import type { Disagreement, Operation } from "./types.ts";
import { fieldWords, valueWords } from "./value_words.ts";
import { spaced } from "./words.ts";

/** Where what operations name is looked up; "" for what is not known. */
export type Named = {
  lists: Lists;
  tableName: (table_id: string) => string;
  hazardName: (hazard: string) => string;
  containerName: (container_id: string) => string;
  disagreements: readonly Disagreement[];
};

export function historyWords(op: Operation, named: Named): string {
  switch (op.kind) {
    case "set_item":
      if (op.field === "class_id") return `said what kind of thing it is: ${classWords(op.value, named)}`;
      return operationWords(op, named.lists);
    case "set_visit":
      if (op.field === "table_id")
        return `said the table: ${named.tableName(String(op.value)) || "no table"}`;
      if (op.field === "stage") return `said where the owner is: ${spaced(String(op.value))}`;
      return operationWords(op, named.lists);
    case "raise_caution": {
      const level = op.level === "red" ? "Stop" : `a caution (${op.level})`;
      const seen = [named.hazardName(op.hazard) || "a hazard", op.sign].filter(Boolean).join(", ");
      return `raised ${level}: ${seen}`;
    }
    case "settle_disagreement":
      return settledWords(op, named);
    default:
      return operationWords(op, named.lists, named.containerName);
  }
}

function classWords(value: unknown, { lists }: Named) {
  return (typeof value === "string" && className(lists, value)) || "none";
}

type Settled = Extract<Operation, { kind: "settle_disagreement" }>;

/** Which of two values holds, and which does not; or that what came after both does. */
function settledWords({ disagreement_id, choose, note }: Settled, { disagreements, lists }: Named) {
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
