/** Numbers and lists in words. */
const UNDER_TEN = "zero one two three four five six seven eight nine".split(" ");
const TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(" ");
const UNDER_TWENTY = [...UNDER_TEN, ...TEENS];
const TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split(" ");
const ORDINALS = "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth".split(
  " ",
);
/** Counts are words up to here, and figures after. */
const MOST_IN_WORDS = 12;

/** A number below a hundred in words, a larger one in figures. */
export function spelled(count: number): string {
  if (count < 20) return UNDER_TWENTY[count] ?? String(count);
  if (count > 99) return String(count);
  const ten = TENS[Math.floor(count / 10) - 2] as string;
  return count % 10 ? `${ten}-${UNDER_TWENTY[count % 10]}` : ten;
}

/** The words of zero to ninety-nine, in order, made once: a text asks them of every word that it may count. */
export const IN_WORDS: readonly string[] = Array.from({ length: 100 }, (_, count) => spelled(count));

/** Counts are words to twelve and figures after; where a sentence begins they are words to ninety-nine. */
export function countInWords(count: number, begins: boolean = false) {
  return count <= MOST_IN_WORDS || begins ? spelled(count) : String(count);
}

/** The number below a hundred that a word is, or its figures; null of any other word. */
export function numberOf(word: string): number | null {
  if (/^\d+$/.test(word)) return Number(word);
  const number = IN_WORDS.indexOf(word.toLowerCase());
  return number < 0 ? null : number;
}

/** "fourth"; null where it is no word to twelve. */
export function ordinalInWords(place: number): string | null {
  return ORDINALS[place - 1] ?? null;
}

/** "once", "twice", "three times" */
export function timesInWords(count: number) {
  return count === 1 ? "once" : count === 2 ? "twice" : `${countInWords(count)} times`;
}

/** "a", "a and b", "a, b and c" */
export function listInWords(words: readonly string[], last: "and" | "or" = "and") {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

/** Verbs that are another of several things, as the sentences of trials have them behind "it". */
const OF_THEM: Record<string, string> = { was: "were", is: "are", has: "have", does: "do", stands: "stand" };

/** "toast rack" of "a toast rack". */
export function withoutArticle(words: string) {
  return words.replace(/^(?:an?|the) /i, "");
}

export function verbOfThem(verb: string) {
  return OF_THEM[verb] ?? verb;
}
