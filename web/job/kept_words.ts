/** Why a device keeps what the office has already: each sort of thing for its own reason. */
import { countWords } from "./words.ts";

export type KeptSort = "operations" | "originals" | "thumbs";
/** How many things of a sort are kept here although the office has them, and their bytes. */
export type Kept = { count: number; bytes: number };

const NOUNS: Record<KeptSort, string> = {
  operations: "record",
  originals: "original photo",
  thumbs: "small picture",
};

/** What is kept, by sort: how many, and why. Nothing is said of a sort of which there is none. */
export function keptWords(kept: Record<KeptSort, Kept>, safe_seq: number | null) {
  const sorts = (["operations", "originals", "thumbs"] as const).filter((sort) => kept[sort].count);
  return sorts.map((sort) => {
    const { count, bytes } = kept[sort];
    return { sort, words: countWords(count, NOUNS[sort]), bytes, why: whyKept(sort, count, safe_seq) };
  });
}

function whyKept(sort: KeptSort, count: number, safe_seq: number | null): string {
  const [has, stays, stands] = count === 1 ? ["it", "It stays", "stands"] : ["them", "They stay", "stand"];
  if (sort === "thumbs") return `The desk has ${has}. Kept for the screens of this device.`;
  if (safe_seq === null) {
    const one = `The desk has ${has} in one place only: there is no second place that counts.`;
    return sort === "operations"
      ? `${one} ${stays} here until 30 days after the day was closed.`
      : `${one} ${stays} here as long as there is room.`;
  }
  if (safe_seq === 0)
    return `The desk has ${has}, but none of its second places is in reach now. ${stays} here until ${count === 1 ? "it" : "they"} ${stands} in one.`;
  return `The desk has ${has}. ${stays} here until every copy in reach has ${has}, too.`;
}

/** What became of an office that had lost something: what was sent again, and whether all of it was taken. */
export function sentAgainWords(operations: number, left: number): string {
  const sent = `${countWords(operations, "record")} ${operations === 1 ? "was" : "were"} sent again`;
  return left
    ? `${sent}; ${left} of what is here still ${left === 1 ? "waits" : "wait"}.`
    : `${sent}: all that this device could bring.`;
}
