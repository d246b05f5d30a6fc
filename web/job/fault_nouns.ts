/** What a fault is called by itself, with its article and number: "a hairline of 14 mm", "one or more plates". */

import { countInWords } from "./english.ts";
import { isSlight, measureOf, shareOf } from "./extents.ts";
import { type Described, seenFindings, termOf } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { isOneEach, isSharedOut, someOf } from "./how_many.ts";
import { isOneLeaf, LEAF, withPartOf } from "./parts_noted.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import { shortCounts } from "./sizes.ts";
import { isOfThem } from "./typed_names.ts";
import type { Term } from "./types.ts";
import { fieldValue } from "./values.ts";

export const HEDGES: Record<string, string> = { probable: "probably", possible: "possibly" };

/** A fault by itself, such as "a hairline of 14 mm": without where it is. */
export function faultInWords({ book }: Described, finding: FindingValue): string {
  const term = termOf(book, finding.term);
  const size = measureOf(finding, term?.plural ? "of" : (term?.measured ?? "over"));
  const share = finding.extent_percent ? shareOf(finding.extent_percent) : "";
  const { words } = nounInWords(withPartOf(book, term, finding), finding);
  return [words.charAt(0).toLowerCase() + words.slice(1), size, share].filter(Boolean).join(" ");
}

/** One odour may be smelled in two places, and is not two. */
export function isSmelled(term: Term | undefined) {
  return term?.sense === "smell";
}

/** Its noun with article, count and, where nothing was measured, "slight". */
export function nounInWords(term: Term | undefined, finding: FindingValue): { words: string; many: boolean } {
  const noun = term?.noun ?? finding.term.replaceAll("-", " ");
  // A loose part is not slight, though it may be slightly loose.
  const isOfState = Boolean(term?.says && noun.includes(term.says));
  const slight = term?.slight && !isOfState && isSlight(finding) ? "slight " : "";
  const count = isSmelled(term) || isOneEach(finding) ? 0 : (finding.extent_count ?? 0);
  if (!term?.plural) return { words: slight + noun, many: false };
  if (count > 1 && isSharedOut(finding)) return { words: slight + term.plural, many: true };
  if (count > 1) {
    const begins = !HEDGES[finding.certainty ?? ""] && finding.certainty !== "not-determined";
    return { words: `${countInWords(count, begins)} ${slight}${term.plural}`, many: true };
  }
  // Of what is missing from several, one is a number; of a dent it is an article.
  if (count === 1 && term.prep === "from" && finding.certainty !== "not-determined")
    return { words: `one ${slight}${noun}`, many: false };
  const isPlenty = term.spread || (finding.extent_words && !finding.extent_mm && !isSmelled(term));
  if (count !== 1 && isPlenty) return { words: slight + term.plural, many: true };
  return { words: `${slight ? "a" : term.article} ${slight}${noun}`, many: false };
}

/** How many plates are missing where the finding has no number: as many as are called for and not present. */
export function leavesLacking({ plan, record }: Described, term: Term | undefined, finding: FindingValue) {
  const { zone, extent_count } = finding;
  if (!LEAF.test(term?.noun ?? "") || extent_count || isOneLeaf(finding)) return 0;
  const alike = seenFindings(record).filter(({ value }) => value.term === finding.term);
  const [short] = shortCounts({ plan, record }).filter(({ rules_out }) => rules_out?.zones.includes(zone));
  if (!short || alike.length > 1) return 0;
  const countOf = (measure: string | null | undefined) =>
    fieldValue(record, `measures/${measure}`)?.value ?? 0;
  return countOf(short.short_of) - countOf(short.measure);
}

/** Of how many of a set it is so, where nobody counted them, is not known: "one or more tiles of another colour". */
export function uncountedOf({ book, record }: Described, term: Term | undefined, finding: FindingValue) {
  const { zone, extent_count, extent_mm, extent_words, piece, piece_count, side, note, certainty } = finding;
  // What is no fault is what its note names: "manufacturing flaws: seed bubbles".
  if (
    term?.severity === 0 &&
    term.plural &&
    !extent_count &&
    !extent_mm &&
    isOfThem(note, book.print.english)
  )
    return { words: term.plural, many: true };
  const isOfLeaves = LEAF.test(termOf(book, finding.term)?.noun ?? "") && term?.plural;
  if (isOfLeaves && !extent_count && certainty !== "not-determined" && !isOneLeaf(finding))
    return { words: `one or more ${term.plural}`, many: true };
  const isKnown = extent_count || extent_words || piece || piece_count || side || note.trim();
  const isSet = zoneNameOf(book, zoneOf(zone)).tally;
  if (isKnown || !isSet || !term?.whole || !term.plural || certainty === "not-determined")
    return nounInWords(term, finding);
  return { words: `${someOf(record)} ${term.plural}`, many: true };
}
