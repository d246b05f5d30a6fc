/** Whether a note beside what is missing speaks of one whole thing of several, or of a part of one. */
import type { FindingValue } from "./fields.ts";
import type { ZoneName } from "./types.ts";

/** Words that say where, and name no thing: "back left", "the middle one". */
const WHERE = new Set([
  ..."the one proper at on in and of back front left right upper lower middle centre top bottom".split(" "),
  ..."near far side inner outer first second third fourth last".split(" "),
]);

/**
 * Whether the note on a zone of several names one of them, such as "the case key" among the keys, or says no more than
 * where it was, such as "back left" among the feet: then that is missing, and no part of one.
 */
export function isOneOfThem(name: ZoneName, { zone, note }: FindingValue) {
  const words = note.trim().toLowerCase();
  const isPlace = words.split(/[^\p{L}]+/u).every((word) => !word || WHERE.has(word));
  return name.plural && !zone.includes("/") && (isPlace || shareAWord(name.one, words));
}

/** Whether one name has the last word of another. */
export function shareAWord(noun: string, name: string) {
  const last = noun.split(" ").at(-1) ?? "";
  return name.split(" ").includes(last);
}
