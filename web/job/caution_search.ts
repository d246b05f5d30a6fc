/**
 * The cautions by whatever people type or say: by beginnings and near spellings, over everything that a row says, the
 * most urgent first. It works on the device, since Stop is pressed where there is no network.
 */

import type { Caution, CautionPack } from "./types.ts";
import { type Asked, distance, type Fit, WordIndex } from "./word_index.ts";

/** What a row is asked for first: how people call it counts more than what staff may do. */
const WEIGHTS = { synonyms: 5, name: 5, sign: 2, subject: 2, rest: 0.05 };
/** Where a row says what things are called; a word that stands nowhere in these may be one of theirs misspelt. */
const NAMING = ["synonyms", "name", "sign", "subject"];
/** How much more a row counts for being grave, so that of two that fit alike the graver stands first. */
const GRAVITY = { red: 2, amber: 1.2, note: 1 };
/** And how much more for being one of the most urgent. */
const URGENT = 1.3;
/** Nobody types more to find a sign, and what is pasted by mistake must not keep the page waiting. */
const LONGEST = 200;
/** Words that say nothing of a thing, or that everything comes in. */
const EMPTY_WORDS =
  "a an and are at box by can for found from full got has have he her his i im in into is it its like " +
  "looks lot man me my of off old on or our out over says she so some somebody someone something stuff " +
  "that the theirs them there theres these they thing think this to was we what with woman you";
const EMPTY = new Set(EMPTY_WORDS.split(" "));

/**
 * What was found: the rows, best and gravest first, and whether any of them is meant by what was typed. Where that is
 * not `sure`, there is at most a likeness of letters, or the word stands somewhere in a row's rules.
 */
export type FoundCautions = { rows: Caution[]; sure: boolean };

const searches: WeakMap<CautionPack, (words: string) => FoundCautions> = new WeakMap();

/** The rows that fit these words, the best and gravest first; none if nothing does. */
export function findCautions(pack: CautionPack, words: string): FoundCautions {
  const found = searches.get(pack) ?? searchOf(pack);
  searches.set(pack, found);
  return found(words.slice(0, LONGEST));
}

/** The rows that are one touch away, in the pack's order. */
export function urgentCautions(pack: CautionPack) {
  return pack.urgent.flatMap((hazard) => rowOf(pack, hazard) ?? []);
}

/** The row for what nobody knows, offered whenever nothing is found. */
export function unknownCaution(pack: CautionPack) {
  return rowOf(pack, pack.unknown);
}

function rowOf(pack: CautionPack, hazard: string) {
  return pack.cautions.find((row) => row.hazard === hazard);
}

function searchOf(pack: CautionPack): (words: string) => FoundCautions {
  const rows = new Map(pack.cautions.map((row) => [row.hazard, row]));
  const index = new WordIndex(
    [...rows.keys()],
    Object.entries(WEIGHTS).map(([name, weight]) => ({
      name,
      weight,
      words: (hazard) => tokensOf(textOf(rows.get(hazard), name)),
    })),
  );
  const known = new Set(
    pack.cautions.flatMap((row) => NAMING.flatMap((field) => tokensOf(textOf(row, field)))),
  );
  const names = [...known];
  const begins = (term: string) => names.some((name) => name.startsWith(term));
  const calls = new Map(
    pack.cautions.map((row) => [row.hazard, new Set(row.synonyms.map((call) => wordsOf(call).join("")))]),
  );
  return (words) => {
    const typed = typedWords(words, names, begins);
    const asked = tokensOf(words).flatMap((term) => askedFor(term, known, begins));
    const found = index
      .search(asked)
      .map(({ id, score, by }) => ({
        row: rows.get(id),
        score: score * gravity(rows.get(id)) * (pack.urgent.includes(id) ? URGENT : 1),
        called: calledIn(typed, calls.get(id) ?? new Set()),
        sure: by.some(isSure),
      }))
      // What a row is called, word for word, comes before what only begins alike or is spelt alike.
      .sort(
        (a, b) =>
          b.called - a.called ||
          (a.called && gravity(b.row) - gravity(a.row)) ||
          Number(b.sure) - Number(a.sure) ||
          b.score - a.score,
      );
    return { rows: found.flatMap(({ row }) => row ?? []), sure: found.some(({ sure }) => sure) };
  };
}

/** What is asked for a typed word: itself or, where it begins no word of the rows, what it may have been meant for. */
function askedFor(term: string, known: Set<string>, begins: (term: string) => boolean): Asked[] {
  if (begins(term)) return [{ word: term, slips: 0 }];
  const meant = [
    ...swapped(term).filter((word) => known.has(word)),
    ...stemsOf(term).filter(begins).slice(0, 1),
    term,
  ];
  // A word that is the beginning of none may be misspelt; one that is was meant as it stands.
  return meant.map((word) => ({
    word,
    slips: begins(word) || word.length < 3 ? 0 : word.length > 5 ? 2 : 1,
  }));
}

function gravity(row: Caution | undefined) {
  return GRAVITY[row?.level ?? "note"];
}

/** How many typed words follow each other at most where a row is called by several: a cut-throat razor in a case. */
const WIDEST = 4;

/**
 * How many of the typed words are, whole, what a row is called, one that was spelt otherwise counting half. Words may
 * stand apart here and together there: fire crackers is a firecracker.
 */
function calledIn(typed: Typed[], calls: Set<string>) {
  const covered = new Set<Typed>();
  for (const at of typed.keys())
    for (let width = 1; width <= WIDEST; width++) {
      const some = typed.slice(at, at + width);
      const called = [some.map(({ typed }) => typed), some.map(({ meant }) => meant)];
      if (called.some((words) => calls.has(words.join("")))) for (const word of some) covered.add(word);
    }
  return [...covered].reduce((sum, { typed, meant }) => sum + (typed === meant ? 1 : 0.5), 0);
}

type Typed = { typed: string; meant: string };

/** The words as typed, each that begins no word of the rows as the nearest of theirs that can have been meant. */
function typedWords(text: string, names: string[], begins: (term: string) => boolean): Typed[] {
  return wordsOf(text).map((typed) => {
    if (begins(typed)) return { typed, meant: typed };
    const [nearest] = names
      .filter((name) => isMeant(typed, name))
      .sort((a, b) => distance(typed, a) - distance(typed, b));
    return { typed, meant: nearest ?? typed };
  });
}

/** Whether the row is called so, and not only alike. */
function isSure({ asked, word, field }: Fit["by"][number]) {
  return NAMING.includes(field) && isMeant(asked, word);
}

/**
 * Whether whoever typed one word can have meant the other: its beginning, or one slip in a word that is long enough.
 */
function isMeant(asked: string, term: string) {
  if (term === asked) return true;
  if (term.startsWith(asked)) return asked.length > 1;
  const slips = asked[0] === term[0] ? (term.length > 7 ? 2 : term.length > 4 ? 1 : 0) : 0;
  return slips > 0 && distance(asked, term, slips) <= slips;
}

/** A word without its ending, the shortest cut first: who types fainting means fainted. */
function stemsOf(word: string) {
  return ["e", "y", "ed", "er", "ing", "ist", "ers", "ings"]
    .filter((ending) => word.endsWith(ending) && word.length - ending.length > 3)
    .map((ending) => word.slice(0, -ending.length));
}

/** A word with each two neighbouring letters the other way round, the slip that fingers make most. */
function swapped(word: string) {
  return [...word]
    .slice(1)
    .map((letter, index) => word.slice(0, index) + letter + word[index] + word.slice(index + 2));
}

function textOf(row: Caution | undefined, field: string) {
  if (!row) return "";
  switch (field) {
    case "synonyms":
      return row.synonyms.join(" , ");
    case "rest":
      return [row.caution, ...row.first_minute, row.may, row.may_not, row.who, row.extent].join(" , ");
    default:
      return String(row[field as "hazard" | "name" | "sign" | "subject"]);
  }
}

/**
 * The words of a text in the singular, and each two that follow each other as one, since people write moth balls as
 * well as mothballs. A comma parts what does not follow each other.
 */
function tokensOf(text: string) {
  return partsOf(text).flatMap((words) => [
    ...words,
    ...words.slice(1).map((word, index) => words[index] + word),
  ]);
}

/** The words of a text in the singular, without those that say nothing. */
function wordsOf(text: string) {
  return partsOf(text).flat();
}

function partsOf(text: string) {
  return text
    .toLowerCase()
    .replace(/['’]/g, "")
    .split(/[^a-z0-9 -]+/)
    .map((part) =>
      part
        .split(/[ -]+/)
        .map(singular)
        .filter((word) => word && !EMPTY.has(word)),
    );
}

function singular(word: string) {
  if (word.length < 4 || /(ss|us|is)$/.test(word)) return word;
  if (word.endsWith("ies")) return `${word.slice(0, -3)}y`;
  return word.replace(/(?<=(?:x|s|sh|ch|z))es$|s$/, "");
}
