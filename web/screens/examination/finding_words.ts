/** The choices that a finding and an origin share, from the book of plans. */
import type { RecordFinding, RecordOrigin } from "../../job/operations.ts";
import type { PlanBook } from "../../job/types.ts";
import type { Option } from "../../parts/choices.tsx";

type Origin = NonNullable<RecordOrigin["origin"]>;
export type Activity = NonNullable<RecordFinding["activity"]>;

/** What can have happened to a thing. The office checks its book against its models, so that the words are theirs. */
export function originalities(book: PlanBook): Option<Origin>[] {
  return book.words.originalities.map(({ originality, words }) => [originality as Origin, words]);
}

/** Whether it goes on, in the vocabulary's one-letter codes. */
export function activities(book: PlanBook): Option<Activity>[] {
  return book.words.activities.map(({ activity, words, meaning }) => [
    activity as Activity,
    `${words}: ${meaning}`,
  ]);
}

/** How a term usually goes on; null if the vocabulary leaves it open. */
export function usualActivity(activity: string): Activity | null {
  return (["n", "w", "P", "Q"] as const).find((code) => code === activity) ?? null;
}
