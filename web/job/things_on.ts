/**
 * A fault as a thing on its zone: what it is, how large, and where, "two hairlines of up to 22 mm to the dial".
 */

import { withArticle } from "./articles.ts";
import { countInWords } from "./english.ts";
import { isSlight, measureOf, oftenOf, shareOf, shareOfNamed } from "./extents.ts";
import { type Described, WHOLE } from "./families.ts";
import { isSmelled, leavesLacking, nounInWords, uncountedOf } from "./fault_nouns.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { isOfTheWhole, isOnPieces, isSeveral, isSingle, onAnyOf, onOneOf, someOf } from "./how_many.ts";
import { isPlace, thingNoted } from "./one_of_them.ts";
import { isNamedPart, LEAF, withPartOf } from "./parts_noted.ts";
import { nounOf, type Place, zoneNameOf, zoneOf } from "./places.ts";
import { isOfThem, thingCalled } from "./typed_names.ts";
import type { Term } from "./types.ts";
import { fieldValue } from "./values.ts";
import { isOfUnlike } from "./zone_says.ts";

const EACH = "each ";
export type Said = { subject: string; verb: string; what: string; isOfVerb?: boolean };
/** A clause without its hedge: `is` and what stands before and behind it, or a thing that there is. */
export type Clause = Said | { thing: string; many: boolean };

/** "possibly stops", "has slightly shifted", "is possibly altered": behind what helps the verb. */
export function hedgedVerb(hedge: string, what: string): string[] {
  const [auxiliary] = /^(has|have|is|are) /.exec(what) ?? [];
  return auxiliary ? [auxiliary.trim(), hedge, what.slice(auxiliary.length)] : [hedge, what];
}

/** "does not hold", "has slightly shifted" */
export function doesInWords(term: Term, finding: FindingValue, many: boolean) {
  const does = term.verbs?.[many ? 1 : 0] ?? "";
  return term.slight && isSlight(finding) ? hedgedVerb("slightly", does).join(" ") : does;
}

/** "two hairlines of up to 22 mm to the dial", "foxing over about 15 per cent of the text" */
export function thingOf(
  described: Described,
  term: Term | undefined,
  finding: FindingValue,
  place: Place,
  zones: string[],
): Clause {
  const { book } = described;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  const lacking = leavesLacking(described, term, finding);
  if (lacking) return thingOf(described, term, { ...finding, extent_count: lacking }, place, zones);
  if (isOfUnlike(name, finding)) return { thing: `one or more ${name.lacking} missing`, many: true };
  const areSeveral = thingNoted(finding.note)?.isSeveral && finding.term === MISSING && !finding.extent_count;
  const areParts =
    term &&
    (areSeveral || (isNamedPart(described, term, finding) && isOfThem(finding.note, book.print.english)));
  const called = withPartOf(book, areParts ? { ...term, spread: true } : term, finding);
  const each = onEachNoted(term, finding);
  if (each) return { thing: each, many: true };
  const counted = countedLost(described, finding);
  if (counted)
    return { thing: `${counted} missing ${whereOf(described, term, finding, place, zones)}`, many: true };
  const noun = uncountedOf(described, called, finding);
  const size = measureOf(finding, term?.plural ? "of" : (term?.measured ?? "over"));
  const often = term && (!term.plural || isSmelled(term)) ? oftenOf(term, finding) : "";
  const isOfPlaces = !finding.extent_percent && often.startsWith("in ") && size.startsWith("over up to ");
  // What was measured once is in one place, and so on one of several.
  const isOnePlace = Boolean(finding.extent_mm) && !finding.extent_count && !finding.note.trim();
  const isOneThing = (term?.plural || isOnePlace) && !noun.many && term?.prep !== "from"; // none is missing from one
  const on = isOneThing ? onOneOf(described, finding, place, zones) : (onAnyOf(described, finding) ?? place);
  const isOfPart = LEAF.test(term?.noun ?? "") || Boolean(zoneNameOf(book, zoneOf(finding.zone)).part);
  const where = whereOf(described, isOfPart ? called : term, finding, on, zones);
  if (term?.part && term.verbs) {
    const [one, several] = term.part;
    const article = withArticle(one, book.print.english).startsWith("an ") ? "an" : "a";
    const part = nounInWords({ ...term, article, noun: one, plural: term.plural && several }, finding);
    const isShare = Boolean(finding.extent_percent); // "has shifted over about 10 per cent of the neck"
    const isOne = finding.extent_count === 1 && isSingle(described, finding);
    const begins = [
      finding.extent_count && term.plural && !isOne ? part.words : `the ${one}`,
      isShare ? "" : where,
    ];
    const does = [doesInWords(term, finding, part.many), size, isShare ? where : "", often];
    const any = onAnyOf(described, finding);
    if (any && term.plural && !isShare)
      return {
        subject: `${someOf(described.record)} ${several} ${term.prep} the ${nounOf(name, 2)}`,
        verb: "",
        what: doesInWords(term, finding, true),
        isOfVerb: true,
      };
    const [subject = "", what = ""] = [begins, does].map((words) => words.filter(Boolean).join(" "));
    return { subject, verb: "", what, isOfVerb: true };
  }
  // "fading of the ribbon over 30 mm", but "a chip of 3 mm to the rim"
  const isOverTwice = [size, where].every((words) => words.startsWith("over "));
  const found = isOverTwice
    ? [`${noun.words} ${where}, ${size.replace("over ", "")}`]
    : [noun.words, ...(term?.prep === "of" || isOfPlaces ? [where, size] : [size, where])];
  const thing = shareOfNamed(found.filter(Boolean).join(" "), finding).replace(
    ` ${EACH}over `,
    `, ${EACH}over `,
  );
  // "On the cover, in three places of up to 4 mm": it is the places that were measured.
  if (isOfPlaces)
    return {
      thing: `${thing.replace(` ${size}`, "")}, ${often} ${size.replace("over", "of")}`,
      many: noun.many,
    };
  return { thing: `${thing}${often && `, ${often}`}`, many: noun.many };
}

/** "Thirty beads of the tunic": as many are missing of what a note names, and not so many parts; else null. */
export function countedLost(described: Described, finding: FindingValue): string | null {
  const { term, zone, note, extent_count: count, extent_mm, extent_percent, piece, piece_count } = finding;
  if (term !== MISSING || (count ?? 0) < 2 || extent_mm || extent_percent || piece || piece_count)
    return null;
  const typed = note.trim();
  const named =
    /^(?:the|its|an?|\d+)\b/i.test(typed) || thingNoted(typed) ? null : thingNoted(`two ${typed}`);
  if (
    !named ||
    isOfTheWhole(described.book, finding) ||
    isPlace(described, zone, typed) ||
    typed.includes(",")
  )
    return null;
  return `${countInWords(count ?? 0, finding.certainty === "certain")} ${typed}`;
}

/** "Filled areas to three fingers of the right hand": a note that counts what the faults are on says it better. */
function onEachNoted(term: Term | undefined, finding: FindingValue): string | null {
  const count = finding.extent_count ?? 0;
  if (!isCountedByNote(term, finding)) return null;
  const size = measureOf({ ...finding, extent_count: count }, "of");
  return [term?.plural, size, term?.prep, finding.note.trim()].filter(Boolean).join(" ");
}

export function isCountedByNote(
  term: Term | undefined,
  { note, extent_count: count, ...more }: FindingValue,
) {
  const [, begins = ""] = /^(\S+) \p{L}+s of (?:the|its) /iu.exec(note.trim()) ?? [];
  const isAlone =
    !more.extent_percent && !more.piece && !more.piece_count && more.certainty !== "not-determined";
  const isOn = ["to", "on", "in"].includes(term?.prep ?? "") && !term?.verbs;
  const isCounted =
    (count ?? 0) > 1 && [countInWords(count ?? 0), String(count)].includes(begins.toLowerCase());
  return Boolean(term?.plural && isOn && isAlone && isCounted);
}

/** Where a thing is, beside the share of it: what bears its zone's name, or hangs about the whole, needs no place. */
function whereOf(
  { book, record }: Described,
  term: Term | undefined,
  finding: FindingValue,
  place: Place,
  zones: string[],
) {
  const share = finding.extent_percent;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  const noun = term?.noun ?? finding.term.replaceAll("-", " ");
  // Of "plate or map" the noun may be one of them alone.
  const either = name.counted?.[0].includes(" or ") ? name.counted[0].split(" or ") : [];
  const isNamed =
    zones.length === 1 &&
    !finding.zone.includes("/") &&
    [name.one, name.many ?? name.one, ...either].some((words) => ` ${noun} `.includes(` ${words} `));
  if (share && isNamed) return shareOf(share);
  if (share && finding.zone === WHOLE) {
    if (share === 100) return shareOf(share);
    if (isOnPieces(finding))
      return (finding.piece_count ?? 1) > 1 ? EACH + shareOf(share) : `${shareOf(share)} of it`;
    const called = thingCalled(fieldValue(record, "short_description") ?? "", book.print.english);
    // Behind another sentence "it" would be the part that this one named.
    const whole = isSeveral(book, record) ? "them" : `the ${name.many ?? "whole"}`;
    return `${shareOf(share)} of ${called ? `the ${called}` : whole}`;
  }
  if (share && name.share === false) return `${term?.prep ?? "to"} ${place.words} ${shareOf(share)}`;
  if (share === 100) return `all over ${place.words}`;
  if (share) return `${shareOf(share)} of ${place.words}`;
  if (finding.zone === WHOLE) return isUnplaced(term, finding) ? "(place not noted)" : "";
  if (isNamed || term?.says_where?.includes(zoneOf(finding.zone))) return "";
  const prep = term?.prep ?? "to";
  if (prep === "in" && name.upon) return `on ${place.words}`;
  const isIn = ((prep === "to" || prep === "of") && name.tally) || (prep === "on" && name.within);
  return `${isIn ? "in" : prep} ${place.words}`;
}

/** Whether nobody can tell where on the whole a thing is: a dent, but no odour and no part of it. */
function isUnplaced(term: Term | undefined, { side, note, extent_words }: FindingValue) {
  return Boolean(term?.plural && !term.whole && !isSmelled(term) && !(side || note.trim() || extent_words));
}
