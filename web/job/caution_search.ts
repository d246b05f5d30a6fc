/**
 * The cautions by whatever people type or say: by beginnings and near spellings, over everything that a row says, the
 * most urgent first. It works on the device, since Stop is pressed where there is no network.
 */

import MiniSearch from "minisearch";
import type { Caution, CautionPack } from "./types.ts";

/** What a row is asked for first: how people call it counts more than what staff may do. */
const WEIGHTS = { synonyms: 5, name: 5, sign: 2, subject: 2, rest: 0.05 };
/** Where a row says what things are called; a word that stands nowhere in these may be one of theirs misspelt. */
const NAMING = ["synonyms", "name", "sign", "subject"];
/** How much more a row counts for being grave, so that of two that fit alike the graver stands first. */
const GRAVITY = { red: 1.25, amber: 1.1, note: 1 };
/** And how much more for being one of the most urgent. */
const URGENT = 1.3;
/** Words that say nothing of a thing, or that everything comes in. */
const EMPTY = new Set(
  "a an and are at box by for from full has have in is it its lot my of off old on or some someone stuff that the there these this to was with".split(
    " ",
  ),
);

const searches: WeakMap<CautionPack, (words: string) => Caution[]> = new WeakMap();

/** The rows that fit these words, the best and gravest first; none if nothing does. */
export function findCautions(pack: CautionPack, words: string) {
  const found = searches.get(pack) ?? searchOf(pack);
  searches.set(pack, found);
  return found(words);
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

function searchOf(pack: CautionPack): (words: string) => Caution[] {
  const rows = new Map(pack.cautions.map((row) => [row.hazard, row]));
  const known: Set<string> = new Set();
  const index = new MiniSearch({
    fields: Object.keys(WEIGHTS),
    idField: "hazard",
    extractField: (row, field) => textOf(row, field),
    tokenize: (text) => tokensOf(text),
    processTerm: (term) => term,
  });
  index.addAll(pack.cautions);
  for (const row of pack.cautions)
    for (const field of NAMING) for (const term of tokensOf(textOf(row, field))) known.add(term);
  const names = [...known];
  const begins = (term: string) => names.some((one) => one.startsWith(term));
  return (words) =>
    index
      .search(words, {
        boost: WEIGHTS,
        processTerm: (term) =>
          begins(term)
            ? term
            : swapped(term)
                .filter((one) => known.has(one))
                .concat(stemsOf(term).filter(begins).slice(0, 1), term),
        prefix: (term) => term.length > 1,
        // A word that is the beginning of none may be misspelt; one that is was meant as it stands.
        fuzzy: (term) => (term.length > 2 && !begins(term) ? (term.length > 5 ? 2 : 1) : false),
        weights: { prefix: 0.6, fuzzy: 0.4 },
        boostDocument: (hazard) =>
          GRAVITY[rows.get(hazard)?.level ?? "note"] * (pack.urgent.includes(hazard) ? URGENT : 1),
      })
      .flatMap(({ id }) => rows.get(id) ?? []);
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
    .map((letter, place) => word.slice(0, place) + letter + word[place] + word.slice(place + 2));
}

function textOf(row: Caution, field: string) {
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
  return text
    .toLowerCase()
    .replace(/['’]/g, "")
    .split(/[^a-z0-9 -]+/)
    .flatMap((part) => {
      const words = part
        .split(/[ -]+/)
        .map(singular)
        .filter((word) => word && !EMPTY.has(word));
      return [...words, ...words.slice(1).map((word, place) => words[place] + word)];
    });
}

function singular(word: string) {
  if (word.length < 4 || /(ss|us|is)$/.test(word)) return word;
  if (word.endsWith("ies")) return `${word.slice(0, -3)}y`;
  return word.replace(/(?<=(?:x|s|sh|ch|z))es$|s$/, "");
}
