/** The article before a name, by the house's lists and then by its letters: "an heirloom", "a one-handed clock". */
import { spelled } from "./english.ts";
import type { English } from "./types.ts";

/** "an heirloom", "a one-handed clock", "an 18th-century chair", "an LP" */
export function withArticle(name: string, english: English) {
  return `${takesAn(name, english) ? "an" : "a"} ${name}`.replace(/^an other /, "another ");
}

function takesAn(name: string, english: English) {
  const spoken = withoutMarks(name).replace(/^\P{L}*?(?=[\p{L}\d])/u, "");
  const [first = ""] = spoken.split(/\s/);
  const [begin = first] = first.split(/[-’']/);
  for (const word of [first, begin, begin.replace(/s$/, "")].map((one) => one.toLowerCase())) {
    if (english.takes_an.includes(word)) return true;
    if (english.takes_a.includes(word)) return false;
  }
  const number = /^\d+/.exec(spoken)?.[0];
  if (number) return /^(?!one)[aeiou]/.test(readAloud(number));
  if (isReadByLetters(begin, spoken)) return english.letters_an.includes(begin.charAt(0));
  return /^[aeiou]/i.test(spoken);
}

/** Letters without their accents: "émigré" begins as "emigre" does. */
function withoutMarks(words: string) {
  return words.normalize("NFD").replace(/\p{M}/gu, "");
}

/** Whether a word is a row of letters, such as RAF or EPNS: a short one in capitals, or one without a vowel behind. */
function isReadByLetters(word: string, name: string) {
  const isShouted = name.includes(" ") && name === name.toUpperCase();
  if (/^[A-Z][B-DF-HJ-NP-TV-XZ\d]*$/.test(word)) return true;
  return /^[A-Z]{2,3}$/.test(word) && !isShouted;
}

/** A number as it is read, as far as its first word: four figures in two pairs, others in threes from behind. */
function readAloud(figures: string) {
  const beginning = figures.length === 4 ? 2 : figures.length % 3 || 1;
  return spelled(Number(figures.slice(0, beginning)));
}
