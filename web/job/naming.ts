/** What a thing is called in a few words: those that go on with what was typed, to be pressed instead of typed. */

/** So many fit in two rows of a phone. */
const MOST_OFFERED = 6;
/** Words as short as these take fewer keys than a press is worth. Common practice. */
const SHORTEST = 4;
/** Longer ones that only join others, so that none of them describes anything. */
const JOINING = new Set(
  "about after also among and around before behind beneath beside between from have into near over that their there"
    .concat(" these this those through under upon which with within without")
    .split(" "),
);

export type Offer = { words: string; becomes: string };

/**
 * What may come next: words that begin as the last one does, and behind a whole word all that may stand beside it.
 * First one of `called` for each of `kinds`, since a thing called so is examined otherwise than the rest of its class;
 * then what the class is `called`, by how often it was; then other words of `used`, by the same. `used` are the short
 * descriptions of things of the class, the newest first; each of the `kinds` has one of its words in its name.
 */
export function offersFor(
  typed: string,
  used: readonly string[],
  called: readonly string[],
  kinds: readonly (readonly string[])[] = [],
): Offer[] {
  const begun = /\S*$/.exec(typed)?.[0] ?? "";
  const before = typed.slice(0, typed.length - begun.length);
  const known = typed.toLowerCase();
  const words = [...wordsKnown(used, called, kinds)];
  const open = words.filter((word) => !has(known, word));
  const goOn = open.filter((word) => word.startsWith(begun.toLowerCase()));
  const isWhole = begun && words.some((word) => ` ${known}`.endsWith(` ${word}`));
  const beside = isWhole ? open.filter((word) => !goOn.includes(word)) : [];
  return [
    ...goOn.map((word) => ({ words: word, becomes: `${before}${word}` })),
    ...beside.map((word) => ({
      words: word,
      becomes: `${typed}${word.startsWith("with ") ? " " : ", "}${word}`,
    })),
  ].slice(0, MOST_OFFERED);
}

/** What of these words stands there, and what is left where it is taken off again. */
export function chosenOf(typed: string, used: readonly string[], called: readonly string[]): Offer[] {
  const known = typed.toLowerCase();
  const there = [...wordsKnown(used, called)].filter((word) => has(known, word));
  return there
    .filter((word) => !there.some((longer) => longer !== word && has(longer, word)))
    .map((word) => ({ words: word, becomes: without(typed, word) }));
}

function without(typed: string, word: string) {
  const [text, at] = [` ${typed.replaceAll(",", " ")} `.toLowerCase(), word.length];
  const from = text.indexOf(` ${word} `);
  const [before, behind] = [typed.slice(0, from), typed.slice(from + at)].map((part) =>
    part.replace(/[\s,]+$/, ""),
  );
  return before ? `${before}${behind}` : (behind ?? "").replace(/^[\s,]+/, "");
}

function wordsKnown(
  used: readonly string[],
  called: readonly string[],
  kinds: readonly (readonly string[])[] = [],
) {
  const ofKinds = kinds.flatMap(
    (named) => called.find((words) => named.some((name) => has(words, name))) ?? [],
  );
  const said = mostUsed(used, called);
  return new Set([...ofKinds, ...said.filter((words) => called.includes(words)), ...called, ...said]);
}

/** Whether the words stand there already, as words and not as the beginning of others. */
function has(text: string, words: string) {
  return ` ${text.replaceAll(",", " ")} `.includes(` ${words} `);
}

/** The words of earlier descriptions by how often they came; what a class is called by counts as one word. */
function mostUsed(used: readonly string[], called: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const description of used) for (const word of wordsOf(description, called)) add(counts, word);
  return [...counts].sort(([, a], [, b]) => b - a).map(([word]) => word);
}

function wordsOf(description: string, called: readonly string[]): Set<string> {
  const text = description.toLowerCase();
  const whole = called.filter((words) => has(text, words));
  const inThem = new Set(whole.flatMap((words) => words.split(" ")));
  const single = (text.match(/[\p{L}-]+/gu) ?? []).filter(
    (word) => word.length >= SHORTEST && !inThem.has(word) && !JOINING.has(word),
  );
  return new Set([...whole, ...single]);
}

function add(counts: Map<string, number>, word: string) {
  counts.set(word, (counts.get(word) ?? 0) + 1);
}
