/** How many pieces a thing has: as somebody counted them, on the walk, and by its numbers. */
import type { RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

type Fields = Pick<RecordCopy, "fields">;

/** The zone on which the pieces of a set are counted. */
export const SET = "set-count";

/** Each count by itself; 0 where nobody counted so. */
export function piecesCounted(item: Fields) {
  const numbers = listed(item, "tags/").map(({ value }) => value.of ?? 1);
  return {
    said: fieldValue(item, "pieces") ?? 0,
    walked: fieldValue(item, `zones/${SET}`)?.count ?? 0,
    numbered: Math.max(0, ...numbers),
  };
}

/** How many of them a number may speak of; the office refuses more, too. */
export function mostCounted(item: Fields) {
  return Math.max(...Object.values(piecesCounted(item)));
}
