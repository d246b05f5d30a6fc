/** Of faults that have a size: that nobody measured them. */
import { listInWords } from "./english.ts";
import { type Described, termOf } from "./families.ts";
import { nameOf } from "./fault_names.ts";
import type { FindingValue } from "./fields.ts";
import type { FindingSentence } from "./finding_sentences.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { groupedBy } from "./values.ts";

/** What has a size of two ways, and of which nobody asks it while it is slight. */
const MODERATE = 2;
/** What was made good is of the size of what it made good, but for a patch. */
const MENDED = "previous intervention";
const PATCHED = "patched";

/**
 * "The crack and the chips were not measured." Of what may be a share as well, such as mount burn, nobody asks that but
 * where it is a thing by itself: a loss, a stain. Of what the desk wrote of it has said so much itself.
 */
export function unmeasured({ book, apart }: Described, found: readonly FindingSentence[]): Sentence[] {
  const isSizeable = ({ term: name, severity }: FindingValue, words: string) => {
    const term = termOf(book, name);
    if (!term?.plural || term.unsized) return false;
    if (term.extents.includes("mm") && !term.extents.includes("%")) return severity > 0;
    // "The back is patched" is all of it.
    const isNamed = new RegExp(
      `\\b(?:${term.noun ?? name.replaceAll("-", " ")}|${term.plural})\\b`,
      "i",
    ).test(words);
    const isOfArea = term.extents.includes("mm2") && (term.family !== MENDED || name === PATCHED);
    return isOfArea && severity >= MODERATE && isNamed;
  };
  const recorded = found.filter(({ keys }) => !keys.some((key) => apart?.(key)));
  const long = recorded.flatMap((one) => one.about.filter((value) => isSizeable(value, one.words ?? "")));
  const about = [...new Set(long)].filter(({ certainty }) => certainty !== "not-determined");
  const open = groupedBy(
    about.filter((one) => !isSized(one)),
    ({ term }) => term,
  );
  const names = [...open].map(([term, values]) => {
    const other = about.some((one) => one.term === term && isSized(one)) ? "other " : "";
    return `the ${other}${nameOf(book, term, values.map(asMany))}`;
  });
  if (!names.length) return [];
  const all = [...open.values()].flat();
  const isMany = all.length > 1 || all.some((one) => (asMany(one).extent_count ?? 1) > 1);
  return [sentence(`${listInWords(names)} ${isMany ? "were" : "was"} not measured`, [], ["unmeasured"])];
}

/** Two of six with a crack have two. */
function asMany(one: FindingValue): FindingValue {
  return { ...one, extent_count: Math.max(one.extent_count ?? 0, one.piece_count ?? 0) || null };
}

/** A size as it is typed into a note. */
export const SIZE = /\d\s*(?:mm|cm|in|inch|inches|")(?![a-z])/i;

/** Whether anything says how large it is; its note may. */
function isSized({ extent_mm, extent_percent, extent_words, note }: FindingValue) {
  return Boolean(extent_mm || extent_percent || extent_words?.trim() || SIZE.test(note ?? ""));
}
