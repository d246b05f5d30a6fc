/**
 * Numbers, lists and articles. What the words of the trade need is with them in the vocabulary and in the names of
 * zones; only names that people type are judged here, by the house's lists and then by their letters.
 */
import type { English } from "./types.ts";
import { firstUpper } from "./words.ts";

const UNDER_TEN = "zero one two three four five six seven eight nine".split(" ");
const TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(" ");
const UNDER_TWENTY = [...UNDER_TEN, ...TEENS];
const TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split(" ");
/** Counts are words up to here, and figures after. */
const MOST_IN_WORDS = 12;

/** A number below a hundred in words, a larger one in figures. */
export function spelled(count: number): string {
  if (count < 20) return UNDER_TWENTY[count] ?? String(count);
  if (count > 99) return String(count);
  const ten = TENS[Math.floor(count / 10) - 2] as string;
  return count % 10 ? `${ten}-${UNDER_TWENTY[count % 10]}` : ten;
}

/** Counts are words to twelve and figures after; where a sentence begins they are words to ninety-nine. */
export function countInWords(count: number, begins: boolean = false) {
  return count <= MOST_IN_WORDS || begins ? spelled(count) : String(count);
}

/** "a", "a and b", "a, b and c" */
export function listInWords(words: readonly string[], last: "and" | "or" = "and") {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

/** "an heirloom", "a one-handed clock", "an 18th-century chair", "an LP" */
export function withArticle(name: string, english: English) {
  return `${takesAn(name, english) ? "an" : "a"} ${name}`;
}

function takesAn(name: string, english: English) {
  const [first = ""] = name.split(/\s/);
  const [begin = first] = first.split(/[-’']/);
  for (const word of [first.toLowerCase(), begin.toLowerCase()]) {
    if (english.takes_an.includes(word)) return true;
    if (english.takes_a.includes(word)) return false;
  }
  const number = /^\d+/.exec(name)?.[0];
  if (number) return /^[aeiou]/.test(readAloud(number));
  if (/^[A-Z](?![a-z])[B-DF-HJ-NP-TV-XZ\d]*$/.test(begin))
    return english.letters_an.includes(begin.charAt(0));
  return /^[aeiou]/i.test(name);
}

/** A number as it is read: four figures in two pairs, thousands by their first figures. */
function readAloud(figures: string) {
  const beginning = figures.length % 3 || 3;
  return spelled(Number(figures.slice(0, figures.length === 4 ? 2 : beginning)));
}

/** A typed name as a sentence begins with it: its article if it is one thing, none if it is several. */
export function nameInWords(typed: string, english: English) {
  const name = typed.trim();
  const [first = ""] = name.split(/[\s,]/);
  if (/^(an?|the)$/i.test(first) || isNumber(first) || isSeveral(name, english)) return firstUpper(name);
  return firstUpper(withArticle(withSmallLetter(name, english), english));
}

/** A number of things; four figures before one thing are a year. */
function isNumber(word: string) {
  const small = word.toLowerCase();
  if (/^\d+$/.test(word)) return word.length !== 4;
  if (small === "several" || small === "hundred") return true;
  return Array.from({ length: 99 }, (_, count) => spelled(count + 1)).includes(small);
}

/** Whether the noun that a name is built round stands for several: "opera glasses in a case", but not "glass". */
function isSeveral(name: string, english: English) {
  const words = (name.toLowerCase().split(/[,;:(]/)[0] ?? "").split(/\s+/);
  const end = words.findIndex((word, at) => at > 0 && english.stops_a_name.includes(word));
  const noun = (end < 0 ? words : words.slice(0, end)).at(-1) ?? "";
  if (english.several.includes(noun)) return true;
  if (english.one_thing.includes(noun)) return false;
  return /[a-z]s$/.test(noun) && !english.one_thing_endings.some((ending) => noun.endsWith(ending));
}

/** A first letter that only began the line becomes small; names of peoples, periods and makers keep theirs. */
export function withSmallLetter(name: string, english: English) {
  const [begin = ""] = name.split(/[\s-]/);
  const isName = english.keep_capital.includes(begin) || /^.[^\s-]*[A-Z]/.test(begin) || begin.length < 2;
  return isName ? name : name.charAt(0).toLowerCase() + name.slice(1);
}
