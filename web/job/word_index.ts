/**
 * How well records fit a few words: each field by its weight, rare words more than common ones, beginnings and near
 * spellings less than the word itself. A small index held in memory, for some hundred records on the device.
 *
 * A word's part is BM25+ with its usual constants. Source: Lv and Zhai, Lower-bounding term frequency normalization,
 * CIKM 2011.
 */

/** How much a second mention counts, how much a long field takes away, what any mention is worth at least. */
const [SATURATION, LENGTH, LEAST] = [1.2, 0.7, 0.5];
/** What a beginning and a near spelling count of what the word itself does, and each letter that is not typed yet. */
const [BEGINNING, NEAR, LETTER_TO_COME] = [0.6, 0.4, 0.3];

/** One field of all records: what it counts, and the words that it has in each record. */
export type IndexedField = { name: string; weight: number; words: (id: string) => string[] };
/** A word that was asked for, and how many letters may be wrong in it. */
export type Asked = { word: string; slips: number };
/** How well a record fits, and by which of its words: what was asked, the record's word, the field that has it. */
export type Fit = { id: string; score: number; by: { asked: string; word: string; field: string }[] };

type Mentions = Map<string, number>;
type Column = {
  name: string;
  weight: number;
  mentions: Map<string, Mentions>;
  sizes: Mentions;
  meanSize: number;
};

export class WordIndex {
  private readonly columns: Column[];
  private readonly words: string[];
  private readonly count: number;

  constructor(ids: string[], fields: IndexedField[]) {
    this.count = ids.length;
    this.columns = fields.map((field) => columnOf(ids, field));
    this.words = [...new Set(this.columns.flatMap(({ mentions }) => [...mentions.keys()]))];
  }

  /** The records that have any of these words, the best first. */
  search(asked: Asked[]): Fit[] {
    const fits = new Map<string, Fit & { met: Set<string> }>();
    for (const term of asked)
      for (const { word, likeness } of this.wordsLike(term))
        for (const column of this.columns)
          for (const [id, times] of column.mentions.get(word) ?? []) {
            const fit = fits.get(id) ?? { id, score: 0, by: [], met: new Set() };
            fits.set(id, fit);
            fit.score += likeness * column.weight * this.worth(column, word, id, times);
            fit.by.push({ asked: term.word, word, field: column.name });
            fit.met.add(term.word);
          }
    // A record that has more of the words is meant rather than one that has one of them often.
    return [...fits.values()]
      .map(({ id, score, by, met }) => ({ id, score: score * met.size, by }))
      .sort((a, b) => b.score - a.score);
  }

  /** The words of the records that somebody who typed this may have meant, each with what it counts, 1 for the same. */
  private wordsLike({ word: asked, slips }: Asked) {
    return this.words.flatMap((word) => {
      const likeness = likenessOf(asked, word, slips);
      return likeness ? [{ word, likeness }] : [];
    });
  }

  private worth({ mentions, sizes, meanSize }: Column, word: string, id: string, times: number) {
    const having = mentions.get(word)?.size ?? 0;
    const rarity = Math.log(1 + (this.count - having + 0.5) / (having + 0.5));
    const length = 1 - LENGTH + (LENGTH * (sizes.get(id) ?? 0)) / meanSize;
    return rarity * (LEAST + (times * (SATURATION + 1)) / (times + SATURATION * length));
  }
}

function columnOf(ids: string[], { name, weight, words }: IndexedField): Column {
  const mentions: Map<string, Mentions> = new Map();
  const sizes: Mentions = new Map();
  for (const id of ids) {
    const mentioned = words(id);
    sizes.set(id, new Set(mentioned).size);
    for (const word of mentioned) {
      const inRecords = mentions.get(word) ?? new Map();
      mentions.set(word, inRecords.set(id, (inRecords.get(id) ?? 0) + 1));
    }
  }
  const meanSize = [...sizes.values()].reduce((sum, size) => sum + size, 0) / ids.length;
  return { name, weight, mentions, sizes, meanSize };
}

function likenessOf(asked: string, word: string, slips: number) {
  if (word === asked) return 1;
  const toCome = word.length - asked.length;
  // A single letter begins far too much.
  if (asked.length > 1 && word.startsWith(asked))
    return (BEGINNING * word.length) / (word.length + LETTER_TO_COME * toCome);
  if (!slips || Math.abs(toCome) > slips) return 0;
  const wrong = distance(asked, word, slips);
  return wrong > slips ? 0 : (NEAR * word.length) / (word.length + wrong);
}

/**
 * How many letters have to be added, left out or changed to make one word of the other. Where that is more than `most`,
 * any number beyond it, since most words are soon seen to be others.
 */
export function distance(a: string, b: string, most = Number.POSITIVE_INFINITY) {
  let above = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let index = 0; index < a.length; index++) {
    const line = [index + 1];
    let least = index + 1;
    for (let at = 0; at < b.length; at++) {
      const changed = (above[at] ?? 0) + Number(a[index] !== b[at]);
      const cost = Math.min((line[at] ?? 0) + 1, (above[at + 1] ?? 0) + 1, changed);
      line.push(cost);
      least = Math.min(least, cost);
    }
    if (least > most) return least;
    above = line;
  }
  return above[b.length] ?? 0;
}
