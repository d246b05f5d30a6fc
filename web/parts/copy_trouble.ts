/** Whether something is wrong with a second place of the office, and what, in a line. */

/**
 * One copy as the office tells of it; `copy_id` is null until it was met, `lag` is what the office has that it lacks,
 * `sealed_to` what the paper that opens it says.
 */
export type Copy = {
  folder: string;
  copy_id: string | null;
  sealed: boolean;
  sealed_to: string | null;
  state: string;
  says: string;
  hint: string;
  in_reach: boolean;
  lag: { operations: number; erasures: number; photos: number; bytes: number };
  complete_at: string | null;
  same_disk: boolean;
};

const MARKS: Record<string, "good" | "unknown"> = { current: "good", behind: "unknown" };

/** The mark before what a copy says of itself. */
export function markOf({ state }: Copy) {
  return MARKS[state] ?? "not-good";
}

/** Whether a person has to do something about it. */
export function isInTrouble({ state, same_disk }: Copy) {
  return same_disk || !(state in MARKS);
}

/** Whether it is a second place, were it plugged in: one that never had anything or lies beside the office is none. */
export function isSecondPlace({ state, same_disk, in_reach, complete_at }: Copy) {
  return !same_disk && state !== "foreign" && (in_reach || complete_at !== null);
}

/** What is wrong with one copy, in a line; what to do about it stands where copies are looked after. */
export function copyTrouble({ folder, state, same_disk }: Copy) {
  const own = state in MARKS ? "" : (TROUBLE[state] ?? "is not as it should be");
  return [`Copy in ${folder}`, [own, same_disk && SAME_DISK].filter(Boolean).join(", and ")].join(" ");
}

const TROUBLE: Record<string, string> = {
  missing: "is out of reach",
  full: "has no room left",
  read_only: "cannot be written",
  slow: "does not answer",
  foreign: "is not this office's",
  forgotten: "belongs to a later state of this office",
  damaged: "is damaged",
  newer: "is of a newer version",
};

const SAME_DISK =
  "for all the office can tell lies on its own disk or in its memory, which is no second place";
