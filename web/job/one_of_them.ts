/** Whether a note beside what is missing speaks of one whole thing of several, or of a part of one. */
import { numberOf } from "./english.ts";
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
const NO_THING = new Set([
  ..."lost gone missing wanting broken worn cut new old early later modern away once work home travel".split(
    " ",
  ),
  ..."fixed loose mislaid stolen lent sold kept elsewhere here there since ago unknown original".split(" "),
]);
const QUANTITIES = new Set(["both", "all", "each", "every", "several", "few", "some", "pair"]);
/** What says of which kind something is, and names no thing: "two short", "the lowest". */
const OF_A_KIND = new Set([
  ..."short long small large big little thick thin narrow wide tall low high plain round square thinner".split(
    " ",
  ),
  ..."shorter longer smaller larger bigger thicker narrower wider taller lower higher older newer other".split(
    " ",
  ),
  ..."lowest highest largest smallest longest shortest tallest biggest oldest newest topmost others same".split(
    " ",
  ),
  ..."red blue green black white yellow brown gold silver brass copper iron steel wood oak pine paper".split(
    " ",
  ),
]);
/** What ends as what was done to a thing, and is one. */
const THINGS_IN_ING =
  /^(?:lapping|webbing|fitting|moulding|lining|binding|stringing|casing|edging|mounting)s?$|^\w{1,3}ings?$/;
/** Of more words a note tells something else than a name, but for "the very old pierced rose". */
const MOST_WORDS = 3;
const MOST_BEHIND_ARTICLE = 5;

/** Words by which a note tells something, and names nothing. */
const SAYS_HOW = /\b(?:not|no|never|none|is|are|was|were|has|have|had|been|both|all|some|only)\b/i;
/** What a note goes on with behind the name of a thing: where that was, or what it was for. */
const BEHIND = /[,;:(]|\b(?:of|from|on|at|in|to|by|for|with|without|behind|between)\b/i;

/**
 * The last word of a note that begins as the name of one or of so many things does, "the bob", "three castors", whether
 * or not anybody knows it for a thing; null of a note that says where, how or of which kind.
 */
export function thingNoted(note: string): { last: string; isSeveral: boolean } | null {
  const [head = ""] = note.trim().split(BEHIND);
  const words = wordsOf(head);
  const [first = ""] = words;
  const count = numberOf(first);
  const named = words.filter((word) => !ARTICLES.has(word) && numberOf(word) === null);
  const [last = ""] = named.slice(-1);
  const begins = count !== null ? count > 0 : ARTICLES.has(first);
  const isSeveral = (count ?? 1) > 1;
  const isNoun = last.length > 1 && !isHow(last) && (!isSeveral || /(?:s|teeth|feet)$/.test(last));
  return begins && isNoun && named.length <= mostWords(words) && !SAYS_HOW.test(note)
    ? { last, isSeveral }
    : null;
}

/** How many words a name may have that a note begins with. */
function mostWords([first = ""]: readonly string[]) {
  return ARTICLES.has(first) ? MOST_BEHIND_ARTICLE : MOST_WORDS;
}

/** Whether the last word of a note says where, how or of which kind, and names nothing. */
function isHow(word: string) {
  const isDone = /(?:ed|ing)s?$/.test(word) && !THINGS_IN_ING.test(word);
  return WHERE.has(word) || NO_THING.has(word) || OF_A_KIND.has(word) || isDone;
}

/** Whether a note names some of the things of a zone, and tells no more: "two links", "the A peg", "seconds hand". */
export function isOneNamed(described: Described, name: ZoneName, zone: string, note: string) {
  if (BEHIND.test(note) || SAYS_HOW.test(note)) return false;
  const words = wordsOf(note);
  const named = words.filter((word) => !ARTICLES.has(word));
  const [last = ""] = named.slice(-1);
  // "Driver" of the figures says which, where "handle" of the handles says nothing.
  const isNamed =
    named.length > 1 || thingNoted(note) !== null || kindsOf(described, name, zone).includes(last);
  return isNamed && named.length <= mostWords(words) && isOneOf(described, name, zone, [last]);
}

/**
 * Whether what is missing from a zone of several is some of them, and no part of one. Its note then names one, such as
 * "the case key" among the keys, or says which, how many or how: "back left", "both", "second from the top", "cut out".
 * Only a note that names another thing, such as "the rose" of a handle, or "the bit of it", tells of a part.
 */
export function isOneOfThem(described: Described, name: ZoneName, { zone, note }: FindingValue) {
  return name.plural && !zone.includes("/") && !isOfPart(described, name, zone, note);
}

/** Whether a note names another thing than the zone is of, by its article or as one that is known for a thing. */
function isOfPart(described: Described, name: ZoneName, zone: string, note: string) {
  if (isPlace(described, zone, note)) return false;
  // What has a name for its parts is called by that.
  if (name.part && note.trim()) return !shareAWord(name.one, note.trim().toLowerCase());
  if (/\bparts?\b|\bof (?:it|one|them)\b/i.test(note)) return true;
  const [head = ""] = note.split(BEHIND);
  const counted = wordsOf(head).filter((word) => numberOf(word) === null);
  const words = counted.filter((word) => !ARTICLES.has(word) && !QUANTITIES.has(word));
  const [last = ""] = words.slice(-1);
  if (!last || isHow(last) || words.length > mostWords(counted) || isOneOf(described, name, zone, words))
    return false;
  const { common = [], parts = [] } = described.book.print.english;
  const known = [...common, ...parts, ...nounsOfOthers(described, zone)];
  return (
    thingNoted(note) !== null ||
    ARTICLES.has(counted[0] ?? "") ||
    known.includes(last) ||
    known.includes(last.replace(/s$/, ""))
  );
}

/**
 * Whether one of these words is what a thing of the zone is called. Where the plan has kinds of them in place of their
 * name, drivers and riders for figures, those are what is there; beside the name, castors with feet, they are parts.
 */
export function isOneOf(described: Described, name: ZoneName, zone: string, words: string[]) {
  const known = [...namesOf(name), ...kindsOf(described, name, zone)];
  return words.some((word) => known.includes(word) && !WHERE.has(word));
}

function namesOf({ one, many, counted }: ZoneName) {
  return [one, many ?? "", ...(counted ?? [])].flatMap(wordsOf);
}

/** The kinds that a plan has in place of a zone's name, one as well as several: "driver" and "drivers" of figures. */
function kindsOf({ plan }: Described, name: ZoneName, zone: string) {
  const looked = wordsOf(plan.zones.find((row) => row.zone === zone)?.words ?? "");
  if (looked.some((word) => namesOf(name).includes(word))) return [];
  return looked.flatMap((word) => (word.endsWith("s") ? [word, word.slice(0, -1)] : [word]));
}

/** Whether a note is the name of one of these parts, and of no thing that the zone is or has several of. */
export function isPartNoted(
  described: Described,
  name: ZoneName,
  zone: string,
  note: string,
  parts: readonly string[],
) {
  // Of "working parts" it names one.
  if (!note.trim() || BEHIND.test(note) || SAYS_HOW.test(note) || /\bpart$/.test(name.one)) return false;
  const words = wordsOf(note).filter((word) => !ARTICLES.has(word) && numberOf(word) === null);
  const [last = ""] = words.slice(-1);
  const isPart =
    (!name.tally && thingNoted(note) !== null) ||
    parts.includes(last) ||
    parts.includes(last.replace(/s$/, ""));
  const isOwn = name.plural
    ? isOneOf(described, name, zoneOf(zone), [last])
    : [1, 2].some((count) => shareAWord(nounOf(name, count), last));
  return isPart && words.length <= MOST_WORDS && !isOwn && !(name.plural && isPlace(described, zone, note));
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
  const isKnown =
    isThing || [...nounsOfOthers(described, zone), ...lookedFor(described, zone)].includes(last);
  return (
    words.length <= MOST_WORDS && isKnown && !isPlace(described, zone, note) && !shareAWord(name.one, last)
  );
}

/** What its plan looks for on a zone beside the thing itself: the bob of a pendulum. */
function lookedFor({ plan }: Described, zone: string) {
  const [, ...more] = wordsOf(plan.zones.find((row) => row.zone === zoneOf(zone))?.words ?? "");
  return more.filter((word) => !WHERE.has(word) && !NO_THING.has(word));
}

/** The words of a note that may be a name; none of one that tells more, or how many. */
export function namedInNote(note: string): string[] {
  const words = wordsOf(note).filter((word) => !ARTICLES.has(word));
  const isName = words.length <= MOST_WORDS && words.every((word) => numberOf(word) === null);
  return isName && !/\d/.test(note) ? words : [];
}

/** Whether a note is the name of a thing for all that its words show: no place, and not how or since when. */
export function isNameOfThing(note: string) {
  const [last = ""] = wordsOf(note).slice(-1);
  return namedInNote(note).length > 0 && !isHow(last) && !BEHIND.test(note) && !SAYS_HOW.test(note);
}

/**
 * Another zone of several that a note names as so many things, and how it names them: "two tyres" of the wheels. The
 * walk comes to what bears a thing before it comes to the thing: the feet that are missing of "two legs" are feet.
 */
export function othersNoted({ plan, book }: Described, zone: string, note: string) {
  const typed = note.trim().toLowerCase();
  const words = wordsOf(typed);
  const [last = ""] = words.slice(-1);
  if (!last || BEHIND.test(note) || SAYS_HOW.test(note) || words.length > MOST_WORDS) return null;
  const { parts = [] } = book.print.english;
  const at = plan.zones.findIndex((row) => row.zone === zone);
  const [named, another] = plan.zones.slice(at + 1).flatMap((row) => {
    const name = zoneNameOf(book, row.zone);
    const [one, many] = [name.one, nounOf(name, 2)];
    const isNamed = [one, many].some((noun) => noun.split(" ").at(-1) === last);
    return name.plural && isNamed && parts.includes(one.split(" ").at(-1) ?? "") ? { one, many } : [];
  });
  return at < 0 || !named || another ? null : { ...named, words, isSeveral: named.many.endsWith(last) };
}

/** Whether a note speaks of several things of the zone, and not of all: "drop-in seats" of a seat. */
export function isOfSeveral(name: ZoneName, note: string) {
  const words = wordsOf(note);
  const isOfAll = words.some((word) => QUANTITIES.has(word));
  return !isOfAll && words.length > 1 && words.at(-1) === nounOf(name, 2) && !SAYS_HOW.test(note);
}

/** "Back left", and "third drawer, right" of a handle: where, if need be by the name of another zone. */
export function isPlace(described: Described, zone: string, note: string) {
  const rest = wordsOf(note).filter((word) => !WHERE.has(word) && numberOf(word) === null);
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
