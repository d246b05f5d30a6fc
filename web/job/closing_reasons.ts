/** What the people who close a day know of each difference: the reason stands in the closing beside what it is of. */
import type { Found } from "./closing.ts";
import type { ValueAt } from "./fields.ts";
import { beginning, longestText } from "./kinds_read.ts";

/** What is mostly known of one, on the keys 1 to 4. Source: common practice. */
export const REASONS = [
  "Known, and stays so",
  "The desk does it",
  "Being looked for",
  "Nobody knows why",
] as const;

/** Reasons by what a difference is called in the closing. */
export type Reasons = Readonly<Record<string, string>>;

/** What a difference is called in the operation that closes the day. */
export function inClosing(words: string): string {
  return beginning(words, longestText("close_day.named"));
}

export function reasonFor(reasons: Reasons, words: string): string {
  return reasons[inClosing(words)]?.trim() ?? "";
}

/** The reasons with one more, for all of the differences named. */
export function withReason(reasons: Reasons, words: readonly string[], reason: string): Reasons {
  return { ...reasons, ...Object.fromEntries(words.map((name) => [inClosing(name), reason])) };
}

/** Those of which nobody has said anything yet. */
export function withoutReason<Of extends Pick<Found, "words">>(found: readonly Of[], reasons: Reasons): Of[] {
  return found.filter(({ words }) => !reasonFor(reasons, words));
}

/**
 * As the closing keeps them: in the order of what is named, empty where nobody said anything; none if nobody did at
 * all.
 */
export function reasonsInOrder(named: readonly string[], reasons: Reasons): string[] {
  const all = named.map((words) => beginning(reasonFor(reasons, words), longestText("close_day.reasons")));
  return all.some(Boolean) ? all : [];
}

/** A difference as a day was closed with it, and what was known of it then; empty if nobody said. */
export type Named = { words: string; reason: string };

export function namedIn({ named, reasons }: ValueAt<"closed">): Named[] {
  return named.map((words, index) => ({ words, reason: reasons?.[index] ?? "" }));
}

/** What was found after the closing; of several that are called alike, as many as were named then are known. */
export function foundSince(found: readonly Found[], named: readonly Named[]): Found[] {
  const known = new Map<string, number>();
  for (const { words } of named) known.set(words, (known.get(words) ?? 0) + 1);
  return found.filter(({ words }) => {
    const left = known.get(inClosing(words)) ?? 0;
    known.set(inClosing(words), left - 1);
    return left < 1;
  });
}
