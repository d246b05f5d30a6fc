/**
 * The names of things as people type them, with article, number and first letter as a text needs them. What the words
 * of the trade need is with them in the vocabulary and in the names of zones; only what is typed is judged here, by the
 * house's lists and then by its letters.
 */
import { withArticle } from "./articles.ts";
import { countInWords, IN_WORDS } from "./english.ts";
import type { English } from "./types.ts";
import { firstUpper } from "./words.ts";

/** A typed name as a sentence begins with it: its article if it is one thing, none if it is several. */
export function nameInWords(typed: string, english: English) {
  const name = articled(counted(countedWithin(paired(dateBehind(typed.trim()))), english), english);
  const [first = ""] = name.split(/[\s,]/);
  // A title stands for the thing itself: “Untitled”, oil on canvas.
  if (/^[“"][^”"]+[”"]([,;]|$)/.test(name)) return name.charAt(0) + firstUpper(name.slice(1));
  if (/^(an?|the|half an?) /i.test(`${name} `) || isNumber(first, name, english)) return firstUpper(name);
  if (/^\d{1,3} ?x /i.test(name)) return name;
  if (english.bare?.includes(first.toLowerCase()) || isOfSomebody(name, english)) return firstUpper(name);
  if (isSeveral(name, english) && !english.measures_out?.includes(first.toLowerCase()))
    return firstUpper(name);
  return firstUpper(withArticle(withSmallLetter(name, english), english));
}

/** "c. 1900 chair" is a chair, c. 1900. */
function dateBehind(name: string) {
  return name.replace(/^((?:circa|ca?\.?) ?\d{4}s?),? (.+)$/i, "$2, $1");
}

/** "set of 6 spoons": counts are words within a name, too. */
function countedWithin(name: string) {
  return name.replace(
    /\b((?:set|group|lot|box|collection|bundle|suite) of) (\d{1,2})(?= \p{L}{2})/iu,
    (_, of: string, figures: string) => `${of} ${countInWords(Number(figures))}`,
  );
}

/** How many there are, where that stands in brackets at the end: "sheep (three)". */
function countBehind(name: string) {
  const [, words = ""] = /\((\S+)\)$/.exec(name) ?? [];
  return /^\d+$/.test(words) ? Number(words) > 1 : isInWords(words) && words.toLowerCase() !== "one";
}

/** "pair opera glasses" is a pair of them. */
function paired(name: string) {
  return name.replace(/^((?:(?:a|one) )?pair) (?!of\b)/i, "$1 of ");
}

/** An article that was typed, as it must be: "an 18th century chair" for "a", and none before "scissors". */
function articled(name: string, english: English) {
  const [, rest = ""] = /^an? (.+)$/i.exec(name) ?? [];
  if (!rest || english.measures_out?.includes(rest.split(" ")[0] ?? "")) return name;
  return english.several.includes(nounOf(rest, english)) ? rest : withArticle(rest, english);
}

/** A count as a sentence begins with it: of "14 spoons" or "2 x vases", but not of "8 mm" or "800 silver". */
function counted(name: string, english: English) {
  const [, figures = "", things = ""] = /^(?:an? )?(\d+)(?: ?x)? (.+)$/i.exec(name) ?? [];
  const [, some = "", all = "", of = ""] = /^(\d+) of (?:the )?(\d+) (.+)$/i.exec(name) ?? [];
  if (some) return `${countInWords(Number(some), true)} of ${countInWords(Number(all))} ${of}`;
  const [, spelt = "", several = ""] = /^an? (\S+) (.+)$/i.exec(name) ?? [];
  if (spelt && isInWords(spelt) && isSeveral(several, english)) return `${spelt} ${several}`;
  const count = Number(figures);
  const isCount = count > 0 && figures.length < 4 && !figures.startsWith("0") && !isUnit(things, english);
  return isCount && isSeveral(things, english) === count > 1 && !(count === 1 && isSeveral(things, english))
    ? `${countInWords(count, true)} ${things}`
    : name;
}

function isUnit(things: string, english: English) {
  return english.units?.includes((things.split(/[\s-]/)[0] ?? "").toLowerCase());
}

/** A number of things: in words, or in figures before several. */
function isNumber(word: string, name: string, english: English) {
  if (/^\d{1,3}(,\d{3})+ /.test(name)) return isSeveral(name.replaceAll(/(\d),/g, "$1"), english);
  if (/^\d+$/.test(word)) return isSeveral(name, english) && word.length !== 4;
  return isInWords(word);
}

function isInWords(word: string) {
  const small = word.toLowerCase();
  return small === "several" || small === "hundred" || IN_WORDS.indexOf(small) > 0;
}

/** What is named by whose it is, or by a title: "Mrs Larkspur's dress", "Larkspur's Almanac". */
function isOfSomebody(name: string, english: English) {
  const [first = ""] = name.split(/\s/);
  const isTitled = english.titles?.includes(first.replace(/\.$/, "")) && /[’']s?(\s|$)/.test(name);
  return isTitled || /^\p{Lu}\p{Ll}+[’']s .*\b\p{Lu}\p{Ll}/u.test(name);
}

/**
 * "it" of one thing, "they" of so many: "fourteen vehicles", a pair or a set of them. A tea set is one thing, and so is
 * all that is china.
 */
export function isOfThem(typed: string, english: English): boolean {
  const name = counted(typed.trim(), english);
  const [first = ""] = name.toLowerCase().split(/[\s,]/);
  if (/^(?:(?:an? )?(?:pair|set) of|half a dozen|a (?:half[ -])?dozen) /i.test(name)) return true;
  if (/^(an?|the|one|half|set|pair|part)$/.test(first)) return false;
  if (isNumber(first, name, english)) return true;
  const noun = nounOf(name, english);
  return isSeveral(name, english) && (noun.endsWith("s") || !english.several.includes(noun));
}

/** Whether the noun that a name is built round stands for several: "opera glasses in a case", but not "glass". */
function isSeveral(name: string, english: English) {
  const noun = nounOf(name, english);
  if (english.several.includes(noun) || countBehind(name)) return true;
  if (english.one_thing.includes(noun)) return false;
  return /[a-z]s$/.test(noun) && !english.one_thing_endings.some((ending) => noun.endsWith(ending));
}

/** The noun that a name is built round, or the whole name where the house has it in its list of several. */
/** What one thing is called, of a name that has one of the house's plain nouns: "quilt" of a patchwork quilt. */
export function thingCalled(name: string, english: English): string | null {
  const noun = nounOf(name, english);
  return english.things?.includes(noun) && !isOfThem(name, english) ? noun : null;
}

function nounOf(name: string, english: English) {
  const plain = (name.toLowerCase().split(/[,;:(]/)[0] ?? "").trim();
  if (english.several.includes(plain)) return plain;
  const words = plain.split(/\s+/);
  const end = words.findIndex((word, at) => at > 0 && english.stops_a_name.includes(word));
  return ((end < 0 ? words : words.slice(0, end)).at(-1) ?? "").replace(/\.$/, "");
}

/**
 * A first letter that only began the line becomes small where it begins a common word; any other may be a name, and
 * keeps the capital that it was typed with, as does a common one before a name: "Old Hollowell jug". What `isOfWords`,
 * such as materials and colours, is named after nobody.
 */
export function withSmallLetter(name: string, english: English, isOfWords: boolean = false) {
  const [begin = ""] = name.split(/[\s-]/);
  const [word = ""] = begin.split(/[’'.,;:]/);
  const mayBeName = !isOfWords && (!isCommon(word, english) || isBeforeName(name, english));
  const isKept = isProper(word, english) || isProper(begin, english) || mayBeName;
  const isName = isKept || /^.[^\s-]*[A-Z\d]/.test(begin) || begin.length < 2;
  return isName ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

/** Whether a word is on one of the lists of those that keep their capital: peoples, periods, places, titles. */
function isProper(word: string, english: English) {
  return (
    english.keep_capital.includes(word) ||
    english.titles?.includes(word) ||
    english.keep_capital_endings?.some((ending) => word.endsWith(ending))
  );
}

/** A list of a house of before has no common words: there, every word was taken for one. */
function isCommon(word: string, { common }: English) {
  const small = word.toLowerCase();
  return (
    !common || [small, small.replace(/s$/, ""), small.replace(/es$/, "")].some((one) => common.includes(one))
  );
}

/** Whether the next word has a capital, too, and is none of those that always have one: "Punch and Judy". */
function isBeforeName(name: string, english: English) {
  const [, next = ""] = /^\p{Lu}[\p{Ll}’']+ (?:and |& )?(\p{Lu}\p{Ll}[^\s-]*)/u.exec(name) ?? [];
  return Boolean(next) && !isProper(next.split(/[’'.,;:]/)[0] ?? "", english);
}
