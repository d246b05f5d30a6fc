/** What stands in a list of the house, as it is printed. */
import { withoutStop } from "./sentences.ts";
import type { PlanBook } from "./types.ts";
import { spaced } from "./words.ts";

/** Why something was not done, for whoever bids; words of the examiner's own stand as they are. */
export function reasonInWords(book: PlanBook, reason: string) {
  const known = book.words.reasons.find((row) => row.reason === reason);
  if (known) return known.print ?? known.words.charAt(0).toLowerCase() + known.words.slice(1);
  return withoutStop(isOneOfAList(reason) ? spaced(reason) : reason);
}

/** A reason that a house had in its list once, and has no longer. */
function isOneOfAList(reason: string) {
  return /^[a-z0-9-]+$/.test(reason);
}

/** "apparently original", "replaced" */
export function originWords(book: PlanBook, origin: string) {
  const known = book.words.originalities.find((row) => row.originality === origin);
  return known?.print ?? known?.words ?? origin.replaceAll("-", " ");
}
