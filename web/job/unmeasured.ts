/** Of faults that have a size: that nobody measured them. */
import { listInWords } from "./english.ts";
import { type Described, termOf } from "./families.ts";
import { nameOf } from "./fault_names.ts";
import type { FindingValue } from "./fields.ts";
import type { FindingSentence } from "./finding_sentences.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { groupedBy } from "./values.ts";

/**
 * "The crack and the chips were not measured." Of what may be a share as well, such as mount burn, nobody asks that. Of
 * what the desk wrote of it has said so much itself.
 */
export function unmeasured({ book, apart }: Described, found: readonly FindingSentence[]): Sentence[] {
  const isLong = ({ term: name, severity, certainty }: FindingValue) => {
    const term = termOf(book, name);
    const isSizeable = term?.plural && term.extents.includes("mm") && !term.extents.includes("%");
    const isThing = Boolean(isSizeable && !term.unsized);
    return severity > 0 && certainty !== "not-determined" && isThing;
  };
  const recorded = found.filter(({ keys }) => !keys.some((key) => apart?.(key)));
  const about = [...new Set(recorded.flatMap((one) => one.about))].filter(isLong);
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
const SIZE = /\d\s*(?:mm|cm|in|inch|inches|")(?![a-z])/i;

/** Whether anything says how large it is; its note may. */
function isSized({ extent_mm, extent_percent, extent_words, note }: FindingValue) {
  return Boolean(extent_mm || extent_percent || extent_words?.trim() || SIZE.test(note ?? ""));
}
