/** What of a zone is missing where that is several things, or what its note names: "the hair of the bow". */
import { withArticle } from "./articles.ts";
import { fittingIn } from "./called.ts";
import { countInWords, listInWords, numberOf } from "./english.ts";
import type { Described } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { isNameOfThing, isOfAnother, namedInNote, othersNoted, thingNoted } from "./one_of_them.ts";
import { placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { isOfThem } from "./typed_names.ts";

/** What is missing, whether its note says no more than that, and whether nobody noted which of several it is. */
export type Lost = { words: string; many: boolean; isTold: boolean; isOpen: boolean };

const NOT_TOLD = { isTold: false, isOpen: false };
const TOLD = { isTold: true, isOpen: false };
const SHARE = /^((?:some|part|half|most|much) of) /i;

/** Null where the zone is one thing, and missing as a whole or as its note says. */
export function missingThere(described: Described, finding: FindingValue, zones: string[]): Lost | null {
  const { plan, book, record } = described;
  const { term, zone, note, extent_count, extent_percent } = finding;
  const row = plan.zones.find((one) => one.zone === zone);
  const lost = row?.lost ?? [];
  const other = term === MISSING && zones.length === 1 && !extent_percent && othersThere(described, finding);
  if (other) return other;
  if (term !== MISSING || !lost.length || zones.length > 1 || (extent_count ?? 1) > 1 || extent_percent)
    return null;
  const name = zoneNameOf(book, zoneOf(zone));
  if (fittingIn(name.called, record) || (name.plural && extent_count)) return null;
  const [only = "", another] = lost;
  if (!another && isPart(only)) return { words: only, many: false, ...NOT_TOLD }; // whatever its note names is one
  const [, share] = SHARE.exec(note.trim()) ?? [];
  const named = namedInNote(note.trim().replace(SHARE, ""));
  const last = named.at(-1) ?? "";
  const known = lost.find((one) => wordsOf(one).includes(last));
  const typed = note.trim().replace(/^(?:the|an?|its) /i, "");
  if (known) {
    const isTold = named.every((word) => wordsOf(known).includes(word));
    const of = share ? `${share.toLowerCase()} ` : "";
    return { words: `${of}the ${known}`, many: areMany(described, known), isTold, isOpen: false };
  }
  // "E string", where strings may be missing.
  const looked = [...lost, row?.words ?? ""].flatMap(wordsOf);
  if (last && !share && looked.some((word) => [word, `${word}s`].includes(last) || word === `${last}s`))
    return { words: `the ${typed}`, many: areMany(described, typed), ...TOLD };
  const counted = thingNoted(note)?.last ?? "";
  const isOther =
    counted !== "" && !looked.some((word) => [counted, counted.replace(/s$/, "")].includes(word));
  if (isOther && name.plural) return null;
  if (isOther || isNameOfThing(note) || isOfAnother(described, name, finding)) {
    // What its note names, and nobody knows as a thing of the zone, is in brackets behind it.
    return { words: `a part of ${placesOf(plan, book, zones).words}`, many: false, ...NOT_TOLD };
  }
  if (name.plural && note.trim()) return null;
  if (name.plural) return { words: `one or more of the ${listInWords(lost, "or")}`, many: true, ...NOT_TOLD };
  const words = listInWords(
    lost.map((one) => `the ${one}`),
    "or",
  );
  const isOpen = Boolean(another) && !note.trim();
  return { words, many: areMany(described, lost.at(-1) ?? ""), isTold: false, isOpen };
}

/** The things of another zone that a note on this one names, "two tyres" of the wheels: they are missing; else null. */
function othersThere(described: Described, { zone, note, extent_count: count }: FindingValue): Lost | null {
  const [, all = ""] = /^(both|all) /i.exec(note.trim()) ?? [];
  const bare = note.trim().slice(all ? all.length + 1 : 0);
  const others = zoneNameOf(described.book, zone).plural && othersNoted(described, zone, bare);
  if (!others) return null;
  const { one, many, isSeveral } = others;
  const [first = ""] = others.words;
  const begins = numberOf(first);
  const areSeveral = (begins ?? count ?? (isSeveral ? 2 : 1)) > 1;
  if (all) return { words: note.trim().toLowerCase(), many: true, ...TOLD };
  if (count && begins === null)
    return { words: `${countInWords(count, true)} ${count > 1 ? many : one}`, many: count > 1, ...TOLD };
  const typed = note.trim().toLowerCase().replace(/^its /, "the ");
  if (others.words.length > 1) {
    const isWhole = begins !== null || /^(?:the|an?) /.test(typed);
    return { words: isWhole ? typed : `the ${typed}`, many: areSeveral, ...TOLD };
  }
  if (areSeveral) return { words: `one or more ${many}`, many: true, ...TOLD };
  return { words: withArticle(one, described.book.print.english), many: false, ...TOLD };
}

/** Which of the things that a zone stands for a note names, "a plated chain", and whether it says no more than that. */
export function namedByNote(described: Described, { zone, term, note, extent_count, piece }: FindingValue) {
  const { plan, book, record } = described;
  const name = zoneNameOf(book, zoneOf(zone));
  const isCounted = extent_count || piece;
  if (term === MISSING || isCounted || zone.includes("/") || fittingIn(name.called, record)) return null;
  const lost = plan.zones.find((row) => row.zone === zone)?.lost ?? [];
  const named = namedInNote(note.trim());
  const [known, another] = lost.filter((one) => !isPart(one) && wordsOf(one).includes(named.at(-1) ?? ""));
  if (!known || another) return null;
  const isTold = named.every((word) => wordsOf(known).includes(word));
  return { words: `the ${known}`, many: areMany(described, known), isTold };
}

function areMany({ book }: Described, words: string) {
  const [head = ""] = words.split(" of ");
  return isOfThem(head, book.print.english);
}

function isPart(words: string) {
  return /^an? /.test(words);
}

function wordsOf(words: string) {
  return words
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .filter(Boolean);
}
