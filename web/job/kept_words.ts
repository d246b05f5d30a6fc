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

/**
 * What is kept, by sort: how many, and why. Nothing is said of a sort of which there is none. `known`: whether the
 * office knows this device, and so has said where these stand.
 */
export function keptWords(kept: Record<KeptSort, Kept>, safe_seq: number | null, known = true) {
  const sorts = (["operations", "originals", "thumbs"] as const).filter((sort) => kept[sort].count);
  return sorts.map((sort) => {
    const { count, bytes } = kept[sort];
    return {
      sort,
      words: countWords(count, NOUNS[sort]),
      bytes,
      why: known ? whyKept(sort, count, safe_seq) : unsureOf(count),
    };
  });
}

function unsureOf(count: number): string {
  const has = count === 1 ? "it" : "them";
  const shows = "shows once this device is paired again";
  return `An office had ${has}; whether this one has ${has} ${shows}. ${staying(count)} here.`;
}

function staying(count: number): string {
  return count === 1 ? "It stays" : "They stay";
}

function whyKept(sort: KeptSort, count: number, safe_seq: number | null): string {
  const [has, stands] = count === 1 ? ["it", "stands"] : ["them", "stand"];
  const stays = staying(count);
  if (sort === "thumbs") return `The desk has ${has}. Kept for the screens of this device.`;
  if (safe_seq === null) {
    const words = `The desk has ${has} in one place only: there is no second place that counts.`;
    return sort === "operations"
      ? `${words} ${stays} here until 30 days after the day was closed.`
      : `${words} ${stays} here as long as there is room.`;
  }
  if (safe_seq === 0) {
    const until = `${count === 1 ? "it" : "they"} ${stands} in one`;
    return `The desk has ${has}, but none of its second places is in reach now. ${stays} here until ${until}.`;
  }
  return `The desk has ${has}. ${stays} here until every copy in reach has ${has}, too.`;
}

/**
 * What this device did for an office that had lost something, and whether all of it was taken; empty if it had nothing
 * to bring. Some of it may never have been sent before.
 */
export function broughtWords(operations: number, left: number): string {
  if (!operations && !left) return "";
  const brought = `This device has brought it ${countWords(operations, "record")}`;
  return left
    ? `${brought}; ${left} of what is here still ${left === 1 ? "waits" : "wait"}.`
    : `${brought}: all that it had.`;
}
