/** The terms that a few words find, as they are said at the table: by their names and by what else they are called. */
import type { Term, Zone } from "./types.ts";
import { spaced } from "./words.ts";

/** A shorter word ("in", "of") is in half of all names, and is asked for only if nothing else was typed. */
const SHORTEST = 3;

/** How well a term fits: one name has every word, each where a word of it begins; has them; its names have; some. */
const [BEGUN, IN_ONE, IN_ALL, SOME, NONE] = [4, 3, 2, 1, 0];

/**
 * The best first, and of those that fit alike the usual ones of the zone. Where no single name has all the words, what
 * each of them finds: "hairline crack" is said of what is called a hairline.
 */
export function termsFound(
  terms: readonly Term[],
  zone: Pick<Zone, "zone" | "words" | "usual">,
  words: string,
): Term[] {
  const asked = wordsAsked(zone, words);
  const fits = terms.map((term) => ({
    term,
    fit: fitOf(term, asked),
    isUsual: zone.usual.includes(term.term),
  }));
  const best = Math.max(NONE, ...fits.map(({ fit }) => fit));
  const least = best >= IN_ONE ? IN_ONE : SOME;
  return fits
    .filter(({ fit }) => fit >= least)
    .sort((a, b) => b.fit - a.fit || Number(b.isUsual) - Number(a.isUsual))
    .map(({ term }) => term);
}

/** "Replaced wig" is typed at the wig, whose own name is in no term. */
function wordsAsked(zone: Pick<Zone, "zone" | "words">, words: string) {
  const typed = words.toLowerCase().split(/\s+/).filter(Boolean);
  const place = `${spaced(zone.zone)} ${zone.words}`.toLowerCase();
  const long = typed.filter((word) => word.length >= SHORTEST);
  const beyond = long.filter((word) => !place.includes(word));
  return [beyond, long].find(({ length }) => length) ?? typed;
}

function fitOf({ term, said_as }: Term, asked: readonly string[]) {
  const names = [spaced(term), ...said_as].map((name) => name.toLowerCase());
  const begins = (name: string, word: string) => ` ${name}`.includes(` ${word}`);
  if (names.some((name) => asked.every((word) => begins(name, word)))) return BEGUN;
  if (names.some((name) => asked.every((word) => name.includes(word)))) return IN_ONE;
  const met = asked.filter((word) => names.some((name) => name.includes(word)));
  if (met.length === asked.length) return IN_ALL;
  return met.some((word) => names.some((name) => begins(name, word))) ? SOME : NONE;
}
