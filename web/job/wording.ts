/** How one thing on record is put into words. A sentence may leave out, join and order what is on record, never add. */
/** `from` names the fields of the record that it rests on */
export type Sentence = { words: string; from: string[] };

import type { FindingValue } from "./fields.ts";
import { zoneName } from "./progress.ts";
import type { Plan, PlanBook, Term } from "./types.ts";
import { firstUpper } from "./words.ts";

const COUNT_WORDS = [
  "",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
];
const HEDGES: Record<string, string> = { probable: "probably ", possible: "possibly " };
export const ORIGIN_WORDS: Record<string, string> = {
  original: "original as far as can be seen",
  "original-probably": "apparently original",
  replaced: "replaced",
  restored: "restored",
  repaired: "repaired",
  "later-added": "later",
  associated: "associated, from another item",
  married: "a marriage",
  altered: "altered",
  refinished: "refinished",
  "not-determined": "originality not determined",
};

/** Counts are words to twelve and figures after. */
export function countInWords(count: number) {
  return COUNT_WORDS[count] || String(count);
}

/** "a", "a and b", "a, b and c" */
export function listInWords(words: string[]) {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}

/** One sentence: first letter large, one stop at its end. */
export function sentence(words: string, from: string[]): Sentence {
  return { words: `${firstUpper(words.trim().replace(/[.\s]+$/, ""))}.`, from };
}

/** The size of a fault: millimetres to 99, centimetres from there. */
export function faultSize(mm: number) {
  return mm < 100 ? `${mm} mm` : `${(Math.round(mm) / 10).toFixed(1)} cm`;
}

/**
 * Zones with their members: "the head and the ears (proper left)"; members that are all there are not listed one by one.
 * in the order of the walk
 */
export function placesInWords(plan: Plan, keys: string[]) {
  const zones = [...new Set(keys.map((key) => key.split("/")[0] ?? ""))];
  return listInWords(
    zones.map((zone) => {
      const members = keys
        .filter((key) => key.startsWith(`${zone}/`))
        .map((key) => zoneName(key.slice(zone.length + 1)));
      const all = plan.zones.find((one) => one.zone === zone)?.members.length;
      const name = zone === "outline" ? "the whole item" : `the ${zoneName(zone)}`;
      if (members.length > 1 && members.length === all) return `${name} (${all === 2 ? "both" : "all"})`;
      return members.length ? `${name} (${listInWords(members)})` : name;
    }),
  );
}

/** A side or a clock position: "proper left", "at 4 o'clock". */
export function sideInWords(side: string) {
  const hour = /^clock-(\d+)$/.exec(side)?.[1];
  return hour ? `at ${hour} o'clock` : zoneName(side);
}

function plural(word: string) {
  const [first = "", ...rest] = word.split(" of ");
  const many = /(s|x|ch|sh)$/.test(first) ? `${first}es` : `${first}s`;
  return [many, ...rest].join(" of ");
}

export function withArticle(word: string) {
  return `${/^[aeiou]/i.test(word) ? "an" : "a"} ${word}`;
}

/** How much of it there is, beside its count: "18 mm", "9 x 6 mm", "about 10 per cent". */
function extentInWords({
  extent_mm,
  extent_mm_across,
  extent_percent,
  extent_words,
  extent_count,
}: FindingValue): string[] {
  const size =
    extent_mm && extent_mm_across
      ? extent_mm < 100 && extent_mm_across < 100
        ? `${extent_mm} x ${extent_mm_across} mm`
        : `${faultSize(extent_mm)} x ${faultSize(extent_mm_across)}`
      : extent_mm
        ? faultSize(extent_mm)
        : "";
  const several = size && (extent_count ?? 0) > 1 ? `up to ${size}` : size;
  return [several, extent_percent ? `about ${extent_percent} per cent` : "", extent_words ?? ""].filter(
    Boolean,
  );
}

/**
 * A finding as one clause, its place once, its measure beside it, and the examiner's note as it stands.
 * A hedge is said once: none for what was seen. `zones` is where it is, in the order of the walk; `light` what showed
 * it, if that is worth saying.
 */
export function findingInWords(
  plan: Plan,
  book: PlanBook,
  finding: FindingValue,
  zones: string[],
  light: string = "",
) {
  const term = book.vocabulary.terms.find((one) => one.term === finding.term);
  const hedge = HEDGES[finding.certainty ?? ""] ?? "";
  const sides = finding.side && !finding.zone.endsWith(`/${finding.side}`) ? [sideInWords(finding.side)] : [];
  const place = placesInWords(plan, zones);
  const count = finding.extent_count;
  const origin =
    finding.origin && !saysOrigin(term, finding.origin) ? [ORIGIN_WORDS[finding.origin] as string] : [];
  const doubt = finding.certainty === "not-determined" ? ["not determined"] : [];
  const told = [...sides, ...extentInWords(finding), ...origin, ...doubt];
  const start = term?.says
    ? [`${place.replace(/^the /, "")} ${hedge}${term.says}`, ...(count ? [countInWords(count)] : [])].join(
        ", ",
      )
    : `${hedge}${nounInWords(term, finding)}${names(term, finding) ? "" : ` ${/ (of|to) the /.test(term?.noun ?? "") ? "on" : "to"} ${place}`}`;
  const note = finding.note?.trim() ? `: ${finding.note.trim().replace(/[.\s]+$/, "")}` : "";
  return `${[start, ...told].join(", ")}${light ? `, seen ${light}` : ""}${note}`;
}

/** Whether the term names its zone: "loss of paint" needs no "to the paint". */
function names(term: Term | undefined, finding: FindingValue) {
  return (term?.noun ?? finding.term.replaceAll("-", " ")).split(" ").includes(finding.zone);
}

/** Whether the term itself says what the origin would. */
function saysOrigin(term: Term | undefined, origin: string) {
  return Boolean(term?.says?.startsWith(ORIGIN_WORDS[origin]?.split(",")[0] ?? " "));
}

function nounInWords(term: Term | undefined, finding: FindingValue) {
  const noun = term?.noun ?? finding.term.replaceAll("-", " ");
  const slight = finding.severity === 1 ? "slight " : "";
  const count = finding.extent_count ?? 0;
  if (count > 1 && term?.counted) return `${countInWords(count)} ${slight}${plural(noun)}`;
  if (term?.counted) return count === 1 ? `one ${slight}${noun}` : withArticle(slight + noun);
  return slight + noun;
}
