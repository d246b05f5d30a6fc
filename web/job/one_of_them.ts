/** Whether a note beside what is missing speaks of one whole thing of several, or of a part of one. */
import type { Described } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { nounOf, zoneNameOf, zoneOf } from "./places.ts";
import type { ZoneName } from "./types.ts";

/** Words that say where, and name no thing: "back left", "the middle one". */
const WHERE = new Set([
  ..."the one proper at on in and of back front left right upper lower middle centre top bottom".split(" "),
  ..."near far side inner outer first second third fourth last".split(" "),
]);

const ARTICLES = new Set(["a", "an", "the", "its"]);
/** Common words that name no thing: what a note ends with that tells how, or since when, something is not there. */
const NO_THING = new Set(
  "lost gone missing wanting broken worn cut new old early later modern away once work home travel".split(
    " ",
  ),
);
/** Of more words a note tells something else than a name. */
const MOST_WORDS = 3;

/**
 * Whether the note on a zone of several names one of them, such as "the case key" among the keys, or says no more than
 * where it was, such as "back left" among the feet: then that is missing, and no part of one.
 */
export function isOneOfThem(described: Described, name: ZoneName, { zone, note }: FindingValue) {
  const isWhere = isPlace(described, zone, note);
  return name.plural && !zone.includes("/") && (isWhere || shareAWord(name.one, note.trim().toLowerCase()));
}

/**
 * Whether the note on one thing names another, such as the strap on a case: then that is what is missing of it. Only
 * what is known for a thing is taken for one, since the note may tell anything else.
 */
export function isOfAnother(described: Described, name: ZoneName, { zone, note }: FindingValue) {
  const words = wordsOf(note).filter((word) => !ARTICLES.has(word));
  const [last = ""] = words.slice(-1);
  const { common = [] } = described.book.print.english;
  const isThing =
    common.includes(last) && !WHERE.has(last) && !NO_THING.has(last) && !/(?:ed|ing)$/.test(last);
  const isKnown = isThing || nounsOfOthers(described, zone).includes(last);
  return (
    words.length <= MOST_WORDS && isKnown && !isPlace(described, zone, note) && !shareAWord(name.one, last)
  );
}

/** "Back left", and "third drawer, right" of a handle: where, if need be by the name of another zone. */
function isPlace(described: Described, zone: string, note: string) {
  const rest = wordsOf(note).filter((word) => !WHERE.has(word));
  const others = rest.length && rest.length < wordsOf(note).length ? nounsOfOthers(described, zone) : [];
  return rest.every((word) => others.includes(word));
}

function nounsOfOthers({ plan, book }: Described, zone: string) {
  const names = plan.zones.flatMap((row) => (row.zone === zoneOf(zone) ? [] : zoneNameOf(book, row.zone)));
  return names.flatMap((name) => [1, 2].map((count) => nounOf(name, count).split(" ").at(-1) ?? ""));
}

function wordsOf(note: string) {
  return note
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .filter(Boolean);
}

/** Whether one name has the last word of another. */
export function shareAWord(noun: string, name: string) {
  const last = noun.split(" ").at(-1) ?? "";
  return name.split(" ").includes(last);
}
