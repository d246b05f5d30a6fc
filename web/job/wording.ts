/**
 * A finding as one clause: one fact, its place and its measure together, and the examiner's note as it stands.
 *
 * A term says what its zone is ("the handles are replaced"), or it is a thing on it ("a chip of 3 mm to the rim");
 * which of the two, and with which article and number, is in the vocabulary.
 */

import { withArticle } from "./articles.ts";
import { countInWords, numberOf, timesInWords } from "./english.ts";
import { type Described, saysOf, seenFindings, termOf, WHOLE, wholeOfZones } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { originWords } from "./in_lists.ts";
import { wholeInWords } from "./it_called.ts";
import { howNoticed, lightOf, noticed } from "./lights.ts";
import { linesListed } from "./listed_pieces.ts";
import { missingThere, namedByNote } from "./lost.ts";
import {
  isNameOfThing,
  isOfAnother,
  isOneNamed,
  isOneOfThem,
  isPartNoted,
  isPlace,
  namedInNote,
  shareAWord,
  thingNoted,
} from "./one_of_them.ts";
import { SET } from "./pieces.ts";
import { nounOf, type Place, placesOf, sideInWords, zoneNameOf, zoneOf } from "./places.ts";
import { BESIDE } from "./receipt_lists.ts";
import { goingOnWith, inBrackets } from "./sentences.ts";
import { shortCounts } from "./sizes.ts";
import { isOfThem, thingCalled } from "./typed_names.ts";
import type { PlanBook, RecordCopy, Term, ZoneName } from "./types.ts";
import { fieldValue } from "./values.ts";
import { isOnSomePieces, lineOf, NOT_NOTED, ownWords, piecesOf, whichPiece } from "./which_piece.ts";

const EACH = "each ";
const LEAF = /^(leaf|leaves)\b/;
const HEDGES: Record<string, string> = { probable: "probably", possible: "possibly" };

type Said = { subject: string; verb: string; what: string; isOfVerb?: boolean };
/** A clause without its hedge: `is` and what stands before and behind it, or a thing that there is. */
type Clause = Said | { thing: string; many: boolean };

/** The whole item has no name beside what is said of it: "it" would be the part that was named before. */
const ALL_OF_IT: Place = { words: "", many: false };
/** What is so of the shape of the whole is so of all of it; anything else is throughout. */
const STRUCTURAL = "structural";
/** What a fault was since, and not what it is on; that nobody could say so needs no place either. */
const OF_FAULTS = ["repaired", "restored", "not-determined"];
const MISSING = "missing-part";
const REPLACED = "replaced-part";
/** Where another thing stands than the first. */
const OF_ANOTHERS = [REPLACED, "associated-part"];
const WHAT_OPEN = "; which was not noted";
const WHICH_OPEN = "; which of them was not noted";
/** What befell each by itself: a leg is stuck back, where colours have run all over. */
const OF_SINGLE_ONES = ["loss", "structural", "previous intervention"];

/**
 * `zones` is where it is, in the order of the walk: the members of one zone that share it. Of several pieces it begins
 * with those that it is on: "two of the six have a chip to the rim", "the handle of the left one is restuck".
 */
export function findingInWords(
  described: Described,
  finding: FindingValue,
  zones: string[] = [finding.zone],
): string {
  const [piece] = zoneNameOf(described.book, SET).counted ?? [];
  const which = whichPiece(described.record, finding, piece);
  const { term, zone, certainty, extent_count, extent_percent } = finding;
  const isSure = (certainty ?? "certain") === "certain";
  const verb = areMany(described, finding) ? "are" : "is";
  // The second of two that is missing is no part of them.
  if (which && term === MISSING && [WHOLE, SET].includes(zone) && isSure && !extent_count && !extent_percent)
    return `${lostOf(described, finding) ?? which} ${verb} missing${goingOnWith(finding.note)}`;
  return foundInWords(described, finding, zones, which);
}

/** "The lid of the mould", which is none of the pieces that were listed, as whoever missed it called it. */
function lostOf({ record }: Described, finding: FindingValue) {
  const isNamed = /^the /i.test(ownWords(finding)) && !lineOf(record, finding) && !finding.piece;
  return isNamed && linesListed(record).length && (finding.piece_count ?? 1) === 1 ? ownWords(finding) : null;
}

/** Whether what a finding is on is several: two of them, or what one line of a list calls so, such as sugar tongs. */
function areMany({ book, record }: Described, finding: FindingValue) {
  if ((finding.piece_count ?? 1) > 1) return true;
  const line = lineOf(record, finding);
  return line?.count === 1 && isOfThem(line.words, book.print.english);
}

function foundInWords(described: Described, finding: FindingValue, zones: string[], which: string): string {
  const { book } = described;
  const named = namedByNote(described, finding)?.words ?? "";
  const term = onZone(termOf(book, finding.term), finding.zone, named);
  const clause = fromOneNoted(described, clauseOf(described, term, finding, zones), finding);
  const origin = originOf(described, term, finding);
  // Mended is the fault; replaced, or still the first one, is what it is on.
  const ofZone = "thing" in clause && finding.zone !== WHOLE && !OF_FAULTS.includes(finding.origin ?? "");
  const more = [...sides(book, finding), ...extentWords(book, finding), ...(ofZone ? [] : origin)];
  const { sensed, how } = shownBy(described, term, finding);
  // Behind a measure or a light, a note that goes on would be of that.
  const isPlaced = finding.zone !== WHOLE;
  const isSaid =
    "thing" in clause && (isCountedByNote(term, finding) || countedLost(described, finding) !== null);
  const lost = missingThere(described, finding, zones);
  const part = partOfIt(described, term, finding, zones);
  const isNameSaid = namedByNote(described, finding)?.isTold;
  const isThoseSaid = "subject" in clause && isNotedAlone(described, finding, zones);
  const isNoted = isSaid || lost?.isTold || isNameSaid || isThoseSaid;
  const own = part
    ? part.rest
    : isNoted
      ? ""
      : withoutName(finding.note, zoneNameOf(book, zoneOf(finding.zone)));
  const noted = more.length || how ? inBrackets(own) : goingOnWith(own, isPlaced);
  // What is in brackets stands behind the fault itself, and before the light that showed it.
  const [meant, behind] = noted.startsWith(" (") ? [noted, ""] : ["", noted];
  const open = lost?.isOpen ? WHICH_OPEN : isUnnamed(described, finding, which) ? WHAT_OPEN : "";
  const note =
    behind + open + (ofZone && origin.length ? `; ${onWhat(described, finding, zones)} ${origin}` : "");
  const begins = which && `${which}: `;
  if (finding.certainty === "not-determined") {
    const doubted = [`whether ${doubtedInWords(clause)}`, ...more].join(", ") + meant;
    return `${begins}${doubted}${doubted.includes(", ") ? "," : ""} was not determined${how && ` ${how}`}${note}`;
  }
  const seen = how && `, ${sensed} ${how}`;
  const hedge = HEDGES[finding.certainty ?? ""] ?? "";
  const isOfLine = Boolean(lineOf(described.record, finding));
  const isNoun =
    "subject" in clause && (clause.subject.startsWith("the ") || (isOfLine && clause.subject !== ""));
  const isOfPiece = which && isNoun && finding.zone !== SET;
  const isAllOfPieces = OF_ANOTHERS.includes(finding.term) && isOnPieces(finding);
  const isOnWhole =
    "verb" in clause && finding.zone === WHOLE && (clause.verb !== "" || (isAllOfPieces && !clause.isOfVerb));
  const words =
    which && isOnPieces(finding) && "thing" in clause
      ? hadInWords(described, which, finding, clause.thing, hedge)
      : which && isOnWhole
        ? [which, areMany(described, finding) ? "are" : "is", hedge, clause.what].filter(Boolean).join(" ")
        : isOfPiece
          ? hedgedInWords(ofPieces(described, finding, clause, which), hedge)
          : which && isOnPieces(finding) && "subject" in clause && clause.subject && clause.verb
            ? hadInWords(described, which, finding, `${clause.subject} ${clause.what}`, hedge)
            : begins + hedgedInWords(clause, hedge);
  return [words, ...more].join(", ") + meant + seen + note;
}

/** What a note says that it is from stands in place of "from another watch": "associated, from a wristwatch". */
function fromOneNoted({ record }: Described, clause: Clause, finding: FindingValue): Clause {
  const { term, zone, note } = finding;
  if (!OF_ANOTHERS.includes(term) || "thing" in clause) return clause;
  // A chair that is no part of a set is from another set.
  const isOfSet = zone === WHOLE && isOnPieces(finding) && piecesOf(record) > 2;
  if (!/^from /i.test(note.trim()))
    return isOfSet
      ? { ...clause, what: clause.what.replace(/from another .*$/, "from another set") }
      : clause;
  return { ...clause, what: clause.what.replace(/(?:,)? from another .*$/, ",") };
}

/** "The nozzle, plated" of a nozzle says "plated". */
function withoutName(note: string, { one, many }: ZoneName) {
  const [, name = "", rest = ""] = /^(?:the |its )?([\p{L} -]+), +(.+)$/iu.exec(note.trim()) ?? [];
  return name && [one, many].includes(name.toLowerCase()) ? rest : note;
}

/** Some zones have another noun for it: wear to the top edge is not "to the edges" of it. */
function onZone(term: Term | undefined, zone: string, named: string): Term | undefined {
  const [noun, prep] = term?.noun_on?.[zoneOf(zone)] ?? [];
  return term && noun && prep && !shareAWord(named, noun) ? { ...term, noun, prep } : term;
}

/** "the rim of the left one is replaced", "the rims of both are replaced" */
function ofPieces(
  { book }: Described,
  { zone, term, piece_count }: FindingValue,
  clause: Said,
  which: string,
): Said {
  const name = zoneNameOf(book, zoneOf(zone));
  const [one, many] = wholeOfZones(termOf(book, term), [zone]) ?? [name.one, nounOf(name, 2)];
  // One of the six saucers is another's, and no saucer of it.
  if (
    clause.subject === `the ${one}` &&
    [one, many].some((noun) => which.endsWith(` ${noun}`) && !which.endsWith(` with ${noun}`))
  )
    return { ...clause, subject: which, verb: (piece_count ?? 1) > 1 ? "are" : clause.verb };
  const isSeveral = (piece_count ?? 1) > 1 && name.of_each && clause.verb === "is";
  // The cover of "the teapot with cover" is that of the teapot.
  const of = which.endsWith(` with ${one}`) ? which.slice(0, -` with ${one}`.length) : which;
  if (isSeveral && clause.subject === `the ${one}`)
    return { ...clause, subject: `the ${many} of ${of}`, verb: "are" };
  return { ...clause, subject: `${clause.subject} of ${of}` };
}

/** Whether of a set something is missing that nobody named: it is none of the pieces that are here. */
function isUnnamed({ record }: Described, { zone, term, note }: FindingValue, which: string) {
  return zone === WHOLE && term === MISSING && !which && !note.trim() && piecesOf(record) > 1;
}

/** What is on pieces of a set; what is on the set itself, no piece of it has. */
function isOnPieces({ zone, piece, piece_count, certainty }: FindingValue) {
  return zone !== SET && certainty !== "not-determined" && Boolean(piece || piece_count);
}

/** "two of the six have a chip to the rim", "three of the 58 have hairlines in the body, three in all" */
function hadInWords(
  described: Described,
  which: string,
  finding: FindingValue,
  thing: string,
  hedge: string,
) {
  const has = areMany(described, finding) ? "have" : "has";
  // Two of the five saucers have a chip, and none to the saucer.
  const { one, many } = zoneNameOf(described.book, zoneOf(finding.zone));
  const isIt = [one, many ?? one].some((name) => new RegExp(`\\b${name}s?$`).test(which));
  const what = isIt ? thing.replace(new RegExp(` (?:to|in|on|of|over) the ${one}\\b`), "") : thing;
  const counted = isSharedOut(finding) ? `, ${countInWords(finding.extent_count ?? 0)} in all` : "";
  return [which, hedge, has, what].filter(Boolean).join(" ") + counted;
}

/** Whether several are counted on several pieces: nobody noted how many are on each. */
function isSharedOut(finding: FindingValue) {
  const { piece_count, extent_count } = finding;
  return isOnPieces(finding) && (piece_count ?? 1) > 1 && (extent_count ?? 1) > 1 && !isOneEach(finding);
}

/** As many as there are pieces that have any: one each. */
function isOneEach(finding: FindingValue) {
  const { piece_count, extent_count } = finding;
  return isOnPieces(finding) && (piece_count ?? 1) > 1 && piece_count === extent_count;
}

/** "the head is", "both ears are": what a fault is on, for what is said of that. */
function onWhat(described: Described, finding: FindingValue, zones: string[]) {
  const { plan, book } = described;
  const place = onlyOne(described, finding) ?? namedByNote(described, finding) ?? placesOf(plan, book, zones);
  const { words, many } = onOneOf(described, finding, place, zones);
  return `${words.replace(/^(an?|each) /, "the ")} ${many ? "are" : "is"}`;
}

function doubtedInWords(clause: Clause) {
  if ("thing" in clause) return `there ${clause.many ? "are" : "is"} ${clause.thing}`;
  if (!clause.subject) return [clause.isOfVerb ? "it" : "it is", clause.what].join(" ");
  return [clause.subject, clause.verb, clause.what].filter(Boolean).join(" ");
}

/** One hedge, before what it is about. */
function hedgedInWords(clause: Clause, hedge: string) {
  const words =
    "thing" in clause
      ? [hedge, clause.thing]
      : clause.verb
        ? [clause.subject, clause.verb, hedge, clause.what]
        : [clause.subject, ...hedgedVerb(hedge, clause.what)];
  return words.filter(Boolean).join(" ");
}

/** "possibly stops", "has slightly shifted", "is possibly altered": behind what helps the verb. */
function hedgedVerb(hedge: string, what: string): string[] {
  const [auxiliary] = /^(has|have|is|are) /.exec(what) ?? [];
  return auxiliary ? [auxiliary.trim(), hedge, what.slice(auxiliary.length)] : [hedge, what];
}

/** "does not hold", "has slightly shifted" */
function doesInWords(term: Term, finding: FindingValue, many: boolean) {
  const does = term.verbs?.[many ? 1 : 0] ?? "";
  return term.slight && isSlight(finding) ? hedgedVerb("slightly", does).join(" ") : does;
}

function clauseOf(
  described: Described,
  term: Term | undefined,
  finding: FindingValue,
  zones: string[],
): Clause {
  const { plan, book } = described;
  const lost = missingThere(described, finding, zones);
  if (lost) return { subject: lost.words, verb: lost.many ? "are" : "is", what: "missing" };
  const part = partOfIt(described, term, finding, zones);
  if (part)
    return { subject: part.words, verb: part.many ? "are" : "is", what: saysOf(term, finding.zone) ?? "" };
  const place =
    finding.zone === WHOLE
      ? ALL_OF_IT
      : (onlyOne(described, finding) ?? namedByNote(described, finding) ?? placesOf(plan, book, zones));
  if (!saysWhatZoneIs(described, term, finding, zones))
    return thingOf(described, term, finding, place, zones);
  const subject = asPartOf(described, term, zones, subjectOf(described, finding, place, zones));
  // How many hands are bent says nothing of how far.
  const slightly = term.slight && isSlight({ ...finding, extent_count: null }) ? "slightly " : "";
  const measure = measureOf(finding, term.measured === "by" ? "by" : "over");
  const share = finding.extent_percent ? shareOf(finding.extent_percent) : "";
  const isOne = finding.extent_count === 1 && (term.whole || Boolean(term.says_on[zoneOf(finding.zone)]));
  const often = subject === place && !isOne ? oftenOf(term, finding) : "";
  const behind = [measure, share, often]
    .filter(Boolean)
    .map((words) => ` ${words}`)
    .join("");
  if (term.verbs)
    return {
      subject: subject.words,
      verb: "",
      what: `${doesInWords(term, finding, subject.many)}${behind}`,
      isOfVerb: true,
    };
  if (place === ALL_OF_IT) {
    const isSized = share || often || (measure && term.measured !== "by");
    if (!isSized && term.family === STRUCTURAL)
      return {
        subject: wholeInWords(described, "whole"),
        verb: "is",
        what: `${slightly}${saysOf(term, finding.zone)}${behind}`,
      };
    const all = isSized ? "" : throughout(term);
    return { subject: "", verb: "", what: `${slightly}${saysOf(term, finding.zone)}${behind}${all}` };
  }
  return {
    subject: subject.words,
    verb: subject.many ? "are" : "is",
    what: `${slightly}${saysOf(term, finding.zone)}${behind}`,
  };
}

/** A verso is not what is laid down, but the sheet is: of what the zones are part of. */
function asPartOf({ book }: Described, term: Term, zones: string[], place: Place): Place {
  const [one, many] = wholeOfZones(term, zones) ?? [];
  const [zone = ""] = zones;
  if (!one || !many) return place;
  if (zones.length > 1 || zone.includes("/")) return { words: `the ${one}`, many: false };
  const name = zoneNameOf(book, zoneOf(zone));
  const words = place.words.replace(nounOf(name, 2), place.many ? many : one).replace(name.one, one);
  return { ...place, words };
}

/** Of the whole: "refinished throughout"; what is rebound is so or not. */
function throughout({ extents }: Term) {
  return extents.includes("%") ? " throughout" : "";
}

/** The one thing of a zone of several, such as the handle of a jug. */
function onlyOne({ book, record }: Described, { zone }: FindingValue): Place | null {
  const name = zoneNameOf(book, zoneOf(zone));
  const isOnly = name.plural && fieldValue(record, `zones/${zone}`)?.count === 1;
  return isOnly ? { words: `the ${name.one}`, many: false } : null;
}

/** Whether it is a thing that could be counted, so that what is on two members is two of them. */
export function isCountable(described: Described, finding: FindingValue) {
  const term = termOf(described.book, finding.term);
  return Boolean(term?.plural) && !saysWhatZoneIs(described, term, finding, [finding.zone]);
}

/** Whether what cannot be counted is said of each of some zones in the same words, as slight play is. */
export function isOfAnyZone(described: Described, finding: FindingValue, zones: string[]) {
  const term = termOf(described.book, finding.term);
  const names = zones.map((zone) => zoneNameOf(described.book, zoneOf(zone)));
  const isOwn = (zone: string) =>
    Boolean(
      term?.says_on[zoneOf(zone)] || term?.says_where?.includes(zoneOf(zone)) || wholeOfZones(term, [zone]),
    );
  const isPlain = ({ tally, within, of_each, of_some, one, many }: ZoneName) =>
    !(tally || within || of_each || of_some) &&
    ![one, many ?? one].some((noun) => (term?.noun ?? term?.term ?? "").includes(noun));
  return (
    Boolean(term) &&
    !term?.plural &&
    !term?.verbs &&
    !term?.noun_first &&
    names.every(isPlain) &&
    zones.every((zone) => !isOwn(zone) && !saysWhatZoneIs(described, term, { ...finding, zone }, [zone]))
  );
}

/** Whether something else was seen of what is missing: then it is so in part. */
function isSeenInPart({ record }: Described, finding: FindingValue) {
  const { term, zone, extent_count, piece } = finding;
  // What was seen of the others is no part of the one that is missing.
  const isOfSome = isOnSomePieces(record, finding);
  const isOnIt = (other: FindingValue) => !isOfSome || (piece && other.piece === piece);
  const isOfIt = (other: string) => other === zone || zoneOf(other) === zone || other === zoneOf(zone);
  return (
    term === MISSING &&
    !extent_count &&
    seenFindings(record).some(({ value }) => value.term !== MISSING && isOfIt(value.zone) && isOnIt(value))
  );
}

/**
 * A term that says what a zone is says so, but for what is counted on a zone that is one thing, and where a note names
 * what is missing of it.
 */
function saysWhatZoneIs(
  described: Described,
  term: Term | undefined,
  finding: FindingValue,
  zones: string[],
): term is Term {
  const { book } = described;
  if (!term || !(saysOf(term, finding.zone) || term.verbs)) return false;
  if (partOfIt(described, term, finding, zones)) return true;
  if (term.thing_on?.includes(zoneOf(finding.zone)) || isNamedPart(described, term, finding)) return false;
  if (missingThere(described, finding, zones)) return true;
  const isNoun =
    term.noun_first && shareAWord(term.noun ?? "", nounOf(zoneNameOf(book, zoneOf(finding.zone)), 1));
  if (term.part && !term.says_on[zoneOf(finding.zone)] && !isNoun) return false;
  if (!term.noun || !term.plural || term.says_on[zoneOf(finding.zone)]) return true;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  if (isSeenInPart(described, finding) || isOfUnlike(name, finding)) return false;
  if (term.noun_first) return shareAWord(term.noun, nounOf(name, 1));
  // Two of six chairs that are from elsewhere are no part of any.
  if (OF_ANOTHERS.includes(term.term) && finding.zone === WHOLE && isOnPieces(finding)) return true;
  if (term.whole && isOfTheWhole(book, finding)) return false;
  if (finding.zone === WHOLE && !finding.extent_count) return true;
  const count = finding.extent_count ?? 0;
  const isOne = !name.plural || finding.zone.includes("/");
  if (term.note_names && finding.note.trim() && count && !isOneOfThem(described, name, finding)) return false;
  if ((isOne || count) && finding.extent_mm && term.measured === "for") return false; // "a glued repair of 22 mm"
  const isOfThings = !isOne && term.note_names && !count && finding.note.trim();
  if (isOfThings && !LYING_WITH.has(finding.zone) && !isOneOfThem(described, name, finding)) return false;
  if (isOne && term.note_names && !count && isOfPart(described, name, finding)) return false;
  // One loose part of a frame is not all of it where a note says which.
  if (isOne) return count === 0 || (count === 1 && term.whole && !finding.note.trim());
  return zones.length === 1 || count === 0;
}

/** Whether what a finding changed is a part of its zone by its note: the rest of the movement is what it was. */
export function isOfNamedPart(described: Described, finding: FindingValue) {
  const term = termOf(described.book, finding.term);
  return Boolean(term && isNamedPart(described, term, finding));
}

/** What says of a part how the one is that stands there now, and not which part it is. */
const NOW = /^(?:newer|new|modern|later|recent|replacement|reproduction|repro|plastic|older|old) /i;
const NOW_ALONE = new RegExp(`, ?(?:an? )?(${NOW.source.slice(1, -1)})$`, "i");

/**
 * The part that a note names, and what it says beside that: of "new mainspring" and "the mainspring, new" it is the
 * mainspring that is replaced, and not the new one.
 */
function partNoted({ term, note }: Pick<FindingValue, "term" | "note">): { name: string; rest: string } {
  const typed = note.trim().replace(/\.$/, "");
  if (!OF_ANOTHERS.includes(term)) return { name: typed, rest: "" };
  const [, behind] = NOW_ALONE.exec(typed) ?? [];
  if (behind) return { name: typed.replace(NOW_ALONE, ""), rest: behind };
  const bare = typed.replace(/^(?:an?|the|its) /i, "");
  return NOW.test(bare) ? { name: bare.replace(NOW, ""), rest: typed } : { name: typed, rest: "" };
}

/** Whether a note names a part of what it is on, by the house's list: "the mainspring" of a movement is replaced. */
function isNamedPart(described: Described, term: Term, finding: FindingValue) {
  const { zone, extent_mm, extent_percent } = finding;
  const { name: note, rest } = partNoted(finding);
  const { parts = [] } = described.book.print.english;
  const isWhole = extent_mm || extent_percent || namedByNote(described, finding);
  if (!term.part_named || isWhole) return false;
  // A boot button is what an eye was replaced by.
  if (term.term === REPLACED && !rest && /^an? /i.test(note.trim())) return false;
  return isPartNoted(described, zoneNameOf(described.book, zoneOf(zone)), zone, note, parts);
}

/** "The mainspring of the movement", "the bottom board of one drawer": by its name, with what else its note says. */
function partOfIt(
  described: Described,
  term: Term | undefined,
  finding: FindingValue,
  zones: readonly string[],
): (Place & { rest: string }) | null {
  const { plan, book, record } = described;
  const { zone, extent_count } = finding;
  const zoneName = zoneNameOf(book, zoneOf(zone));
  const isOfOne = zones.length === 1 && zone !== WHOLE && !zoneName.tally;
  if (!term || !isOfOne || (extent_count ?? 1) > 1 || !isNamedPart(described, term, finding)) return null;
  const { name, rest } = partNoted(finding);
  const typed = name.replace(/^(?:the|an?|its) /i, "");
  const [first = ""] = typed.split(" ");
  const isNumber = (numberOf(first) ?? 0) > 0;
  const isOfSome =
    zoneName.plural && !zoneName.together && !zone.includes("/") && !onlyOne(described, finding);
  // "The key" is that of one of the locks.
  const isOfSingle = typed !== name && !isNumber;
  const one = extent_count ? `one ${zoneName.one}` : withArticle(zoneName.one, book.print.english);
  const some = extent_count || isOfSingle ? one : `${someOf(record)} ${nounOf(zoneName, 2)}`;
  const of = ` of ${isOfSome ? some : placesOf(plan, book, zones).words}`;
  return { words: `${isNumber ? "" : "the "}${typed}${of}`, many: isOfThem(typed, book.print.english), rest };
}

/** Whether a note names what of it is so: "the hammer" of the striking work. */
function isOfPart(described: Described, name: ZoneName, finding: FindingValue) {
  if (isOfAnother(described, name, finding)) return true;
  const counted = thingNoted(finding.note)?.last;
  const last = counted ?? namedInNote(finding.note).at(-1) ?? "";
  return (
    (counted !== undefined || isNameOfThing(finding.note)) &&
    !shareAWord(nounOf(name, 1), last) &&
    !shareAWord(nounOf(name, 2), last)
  );
}

/** Whether what is missing is some of the unlike things of a zone, and nobody said how many. */
function isOfUnlike({ unlike }: ZoneName, { term, extent_count }: FindingValue) {
  return Boolean(unlike) && term === MISSING && !extent_count;
}

/** How often, where the count is not that of what the clause speaks of. */
function oftenOf({ times }: Term, { extent_count: count, note }: FindingValue) {
  if (!count) return "";
  // "in two places: two claws" would count them twice.
  const [begins = ""] = note.trim().toLowerCase().split(/\s/);
  if (!times && [countInWords(count), String(count)].includes(begins)) return "";
  if (times) return timesInWords(count);
  return `in ${countInWords(count)} ${count === 1 ? "place" : "places"}`;
}

/** What is a piece of the whole, or of a set, is not the whole itself. */
function isOfTheWhole(book: PlanBook, { zone }: FindingValue) {
  return zone === WHOLE || zoneNameOf(book, zoneOf(zone)).tally;
}

/** "the handles", "all four pegs", "one of the three hands", "eight handles" */
function subjectOf(described: Described, finding: FindingValue, place: Place, zones: string[]): Place {
  const { book, record } = described;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  const count = finding.extent_count ?? 0;
  const any = zones.length === 1 && !count ? onAnyOf(described, finding) : null;
  if (any || namedByNote(described, finding)) return any ?? place;
  // How many of several are missing, or what else befell them, nobody counted.
  if (zones.length === 1 && isUncounted(described, finding, name)) {
    const all = fieldValue(record, `zones/${finding.zone}`)?.count ?? piecesOf(record);
    const noted = thoseNoted(described, finding, name);
    if (noted) return noted;
    return { words: `${all === 2 ? "one or both" : "one or more"} ${nounOf(name, 2)}`, many: true };
  }
  if (!count || zones.length > 1 || finding.zone.includes("/") || !name.plural) return place;
  const all = fieldValue(record, `zones/${finding.zone}`)?.count ?? 0;
  const many = count > 1;
  const [single, several] = name.counted ?? [name.one, nounOf(name, 2)];
  if (count === all)
    return {
      words: all === 1 ? `the ${single}` : `${all === 2 ? "both" : `all ${countInWords(all)}`} ${several}`,
      many,
    };
  if (count < all)
    return { words: `${countInWords(count, true)} of the ${countInWords(all)} ${several}`, many };
  return { words: `${countInWords(count, true)} ${count === 1 ? single : several}`, many };
}

/** What lies with a thing is of any kind, and no part of another. */
const LYING_WITH: ReadonlySet<string> = new Set(BESIDE.split(" "));
const OF_ALL = /\b(?:all|both|each|every|none)\b/i;

/**
 * Whether what is missing of several, or was lost, changed or broke, may be one of them or all: nobody counted, and no
 * word of a note says that it is all of them.
 */
function isUncounted({ book, record }: Described, finding: FindingValue, name: ZoneName) {
  const { zone, term, note, extent_count, extent_percent, certainty, ...more } = finding;
  const isOfSeveral = name.plural && !name.together && nounOf(name, 2) !== name.one && !zone.includes("/");
  const isCounted = extent_count || extent_percent || fieldValue(record, `zones/${zone}`)?.count === 1;
  if (!isOfSeveral || isCounted || OF_ALL.test(note)) return false;
  if (term === MISSING) return true;
  const isPlaced = more.extent_mm || more.extent_words?.trim() || more.side;
  const isEach = OF_SINGLE_ONES.includes(termOf(book, term)?.family ?? "");
  return isEach && !isPlaced && certainty !== "not-determined" && !/^marks? /.test(`${name.one} `);
}

/** Whether the subject of a clause is what its note names, so that the note says no more. */
function isNotedAlone(described: Described, finding: FindingValue, zones: string[]) {
  const name = zoneNameOf(described.book, zoneOf(finding.zone));
  const isOfSome =
    zones.length === 1 && isUncounted(described, finding, name) && !onAnyOf(described, finding);
  return isOfSome && !namedByNote(described, finding) && thoseNoted(described, finding, name) !== null;
}

/** "Two links", "the A peg", "four": what is missing of several, where a note names or counts them; else null. */
function thoseNoted(described: Described, finding: FindingValue, name: ZoneName): Place | null {
  const { zone, term, note, extent_count, extent_percent, piece, piece_count } = finding;
  const isSome = name.plural && !name.together && !zone.includes("/");
  if (term !== MISSING || !isSome || extent_count || extent_percent || piece || piece_count) return null;
  const typed = note.trim().replace(/^(?:the|its) /i, "");
  const count = numberOf(typed.toLowerCase());
  const [one, many] = name.counted ?? [name.one, nounOf(name, 2)];
  if (count) return { words: `${typed.toLowerCase()} ${count > 1 ? many : one}`, many: count > 1 };
  const isLone = LYING_WITH.has(zone) && thingNoted(note) !== null;
  if (!(isLone || isOneNamed(described, name, zone, note))) return null;
  const [first = ""] = typed.toLowerCase().split(" ");
  const isBare = typed === note.trim() && /^an?$/.test(first);
  const begins = isBare || numberOf(first) ? "" : "the ";
  return { words: begins + typed, many: isOfThem(typed, described.book.print.english) };
}

/** A part of what has a name for its parts is called by that: a pane of the glazing, a volume of a set of books. */
export function partCalled(words: string, { part, tally, counted }: ZoneName): string {
  const [one, many] = part ?? (tally ? counted : null) ?? ["part", "parts"];
  return words.replace(/\bparts\b/, many).replace(/\bpart\b/, one);
}

function withPartOf(book: PlanBook, term: Term | undefined, { zone, note }: FindingValue): Term | undefined {
  if (!term?.noun) return term;
  const name = zoneNameOf(book, zoneOf(zone));
  // A leaf of what is several is one of those: "one plate missing".
  if (name.plural && LEAF.test(term.noun)) {
    const [one, many] = theOneNoted(name.counted ?? [name.one, nounOf(name, 2)], note);
    return { ...term, noun: term.noun.replace(LEAF, one), plural: term.plural?.replace(LEAF, many) ?? null };
  }
  // A note that names what is missing may name no pane: a lamp is a part of the glazing.
  const [part = ""] = name.part ?? [];
  const isPart =
    !term.note_names || name.plural || !note.trim() || shareAWord(part, note.trim().toLowerCase());
  const of = isPart ? name : { ...name, part: null };
  return { ...term, noun: partCalled(term.noun, of), plural: term.plural && partCalled(term.plural, of) };
}

/** Of "plate or map" the one that a note speaks of, "the map of the northern hundred"; both where it names none. */
function theOneNoted([one, many]: readonly [string, string], note: string): readonly [string, string] {
  const [ones, several] = [one.split(" or "), many.split(" or ")];
  const words = note.toLowerCase().split(/[^\p{L}]+/u);
  const at = ones.flatMap((name, at) =>
    words.includes(name) || words.includes(several[at] ?? "") ? at : [],
  );
  const [only = -1, another] = at;
  return another === undefined && ones[only] && several[only] ? [ones[only], several[only]] : [one, many];
}

/** A fault by itself, such as "a hairline of 14 mm": without where it is. */
export function faultInWords({ book }: Described, finding: FindingValue): string {
  const term = termOf(book, finding.term);
  const size = measureOf(finding, term?.plural ? "of" : (term?.measured ?? "over"));
  const share = finding.extent_percent ? shareOf(finding.extent_percent) : "";
  const { words } = nounInWords(withPartOf(book, term, finding), finding);
  return [words.charAt(0).toLowerCase() + words.slice(1), size, share].filter(Boolean).join(" ");
}

/** "two hairlines of up to 22 mm to the dial", "foxing over about 15 per cent of the text" */
function thingOf(
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
function countedLost(described: Described, finding: FindingValue): string | null {
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

function isCountedByNote(term: Term | undefined, { note, extent_count: count, ...more }: FindingValue) {
  const [, begins = ""] = /^(\S+) \p{L}+s of (?:the|its) /iu.exec(note.trim()) ?? [];
  const isAlone =
    !more.extent_percent && !more.piece && !more.piece_count && more.certainty !== "not-determined";
  const isOn = ["to", "on", "in"].includes(term?.prep ?? "") && !term?.verbs;
  const isCounted =
    (count ?? 0) > 1 && [countInWords(count ?? 0), String(count)].includes(begins.toLowerCase());
  return Boolean(term?.plural && isOn && isAlone && isCounted);
}

/** "Loss of about 10 per cent of the plating", where the noun names the zone that it is a share of. */
function shareOfNamed(thing: string, { extent_percent: share, zone }: FindingValue) {
  if (!share || share === 100 || zone === WHOLE) return thing;
  const [, begin, of, rest] =
    /^(.*\bloss of )(\S+) over about \d+ per cent((?: over |, ).*)?$/.exec(thing) ?? [];
  return of ? `${begin}about ${share} per cent of the ${of}${rest ?? ""}` : thing;
}

/** Whether a zone is one thing, and was not counted as several: a clasp, but no doors. */
function isSingle({ book, record }: Described, { zone }: FindingValue) {
  return !zoneNameOf(book, zoneOf(zone)).plural && (fieldValue(record, `zones/${zone}`)?.count ?? 1) === 1;
}

/** One thing on a zone of several, such as the handles, is on one of them, or on each of all its members. */
function onOneOf(described: Described, finding: FindingValue, place: Place, zones: string[]): Place {
  const { book } = described;
  const name = zoneNameOf(book, zoneOf(finding.zone));
  if (onAnyOf(described, finding)) return { words: withArticle(name.one, book.print.english), many: false };
  if (zones.length > 1) return { words: `each ${name.one}`, many: false };
  const isOfSeveral = name.plural && !name.together && name.many !== name.one && zones.length === 1;
  if (!isOfSeveral || !place.many || finding.zone.includes("/") || finding.extent_percent) return place;
  return { words: withArticle(name.one, book.print.english), many: false };
}

/** Where nobody said which of several things it is on, that may be one or all of them: "one or more obverses". */
function onAnyOf({ book, record }: Described, finding: FindingValue): Place | null {
  const { zone, piece, piece_count, extent_count, extent_percent, note } = finding;
  const name = zoneNameOf(book, zoneOf(zone));
  const isCounted = (extent_count ?? 0) > 1 && !name.of_each;
  const isSaid = piece_count || isCounted || note.trim() || (piece && piece !== NOT_NOTED);
  if (!(name.of_each || name.of_some) || zone.includes("/") || isSaid || extent_percent) return null;
  return { words: onSomeOf(nounOf(name, 2), someOf(record)), many: true };
}

/** "The marks on one or both bodies": how many there are on each is not known, so it is the bodies that are counted. */
function onSomeOf(several: string, some: string) {
  const [, marks, what] = /^(.+ (?:on|of)) the ([\p{L} -]+)$/u.exec(several) ?? [];
  return marks ? `the ${marks} ${some} ${what}` : `${some} ${several}`;
}

/** Of two, "one or both". */
function someOf(record: RecordCopy) {
  return piecesOf(record) === 2 ? "one or both" : "one or more";
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

function isSeveral({ print }: PlanBook, record: RecordCopy) {
  return isOfThem(fieldValue(record, "short_description") ?? "", print.english);
}

/** Whether nobody can tell where on the whole a thing is: a dent, but no odour and no part of it. */
function isUnplaced(term: Term | undefined, { side, note, extent_words }: FindingValue) {
  return Boolean(term?.plural && !term.whole && !isSmelled(term) && !(side || note.trim() || extent_words));
}

function shareOf(percent: number) {
  return percent === 100 ? "all over" : `over about ${percent} per cent`;
}

/** One odour may be smelled in two places, and is not two. */
function isSmelled(term: Term | undefined) {
  return term?.sense === "smell";
}

/** Its noun with article, count and, where nothing was measured, "slight". */
function nounInWords(term: Term | undefined, finding: FindingValue): { words: string; many: boolean } {
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
function leavesLacking({ plan, record }: Described, term: Term | undefined, finding: FindingValue) {
  const { zone, extent_count } = finding;
  if (!LEAF.test(term?.noun ?? "") || extent_count || isOneLeaf(finding)) return 0;
  const alike = seenFindings(record).filter(({ value }) => value.term === finding.term);
  const [short] = shortCounts({ plan, record }).filter(({ rules_out }) => rules_out?.zones.includes(zone));
  if (!short || alike.length > 1) return 0;
  const countOf = (measure: string | null | undefined) =>
    fieldValue(record, `measures/${measure}`)?.value ?? 0;
  return countOf(short.short_of) - countOf(short.measure);
}

/** Whether a note says which one it is: "plate 4", "the map of the northern hundred". */
function isOneLeaf({ note }: FindingValue) {
  const typed = note.trim();
  const isNumber = /^(?:\p{L}+\.? )?(?:\d+|[ivxlc]+)\.?$/iu.test(typed);
  return (
    isNumber ||
    (/^(?:the|an?) (?!last |first |final )/i.test(typed) &&
      thingNoted(typed)?.isSeveral !== true &&
      !/ and |\d+[,;-]/.test(typed))
  );
}

/** Of how many of a set it is so, where nobody counted them, is not known: "one or more tiles of another colour". */
function uncountedOf({ book, record }: Described, term: Term | undefined, finding: FindingValue) {
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

/** Slight is said of what was called so and has no measure. */
function isSlight(finding: FindingValue) {
  const { extent_mm, extent_percent, extent_count, extent_words } = finding;
  const isCounted = (extent_count ?? 0) > 1;
  return finding.severity === 1 && !(extent_mm || extent_percent || isCounted || extent_words);
}

/** "of 18 mm", "over 9 x 6 mm", "of up to 22 mm"; nothing if nobody measured. */
function measureOf({ extent_mm, extent_mm_across, extent_count }: FindingValue, before: string) {
  if (!extent_mm) return "";
  const upTo = (extent_count ?? 0) > 1 ? "up to " : "";
  if (!extent_mm_across) return `${before} ${upTo}${faultSize(extent_mm)}`;
  const both =
    extent_mm < 100 && extent_mm_across < 100
      ? `${extent_mm} x ${extent_mm_across} mm`
      : `${centimetres(extent_mm)} x ${centimetres(extent_mm_across)} cm`;
  return `${before === "of" ? "of" : "over"} ${upTo}${both}`;
}

/** The size of a fault: millimetres to 99, centimetres from there. */
export function faultSize(mm: number) {
  return mm < 100 ? `${mm} mm` : `${centimetres(mm)} cm`;
}

function centimetres(mm: number) {
  return (Math.round(mm) / 10).toFixed(1);
}

function sides(book: PlanBook, { side, zone }: FindingValue) {
  return side && !zone.endsWith(`/${side}`) ? [sideInWords(book, side)] : [];
}

function extentWords(book: PlanBook, { extent_words }: FindingValue) {
  const words = extent_words?.trim();
  if (!words) return [];
  return [book.words.extents.find((row) => row.words === words)?.print ?? words];
}

/** What was done to it, unless the term says it itself. */
function originOf({ book }: Described, term: Term | undefined, { origin }: FindingValue) {
  if (!origin || term?.origins.includes(origin)) return [];
  if (origin === "not-determined") return ["originality not determined"];
  return [originWords(book, origin)];
}

/** The light that showed it: its own, or that of its zone where nothing else was seen there; none of what was told. */
function shownBy(
  { book, record }: Described,
  term: Term | undefined,
  finding: FindingValue,
): { sensed: string; how: string } {
  const none = { sensed: "", how: "" };
  if (finding.certainty === "told") return none;
  const zones = fieldValue(record, `zones/${finding.zone}`)?.light;
  const alone = seenFindings(record).filter(({ value }) => value.zone === finding.zone).length === 1;
  const name = finding.light || (alone ? zones : null);
  if (!name) return none;
  const light = lightOf(book, name, finding.zone);
  const isNamed = light.named === "always" || (light.named === "own" && Boolean(finding.light));
  return isNamed ? { sensed: noticed(term, light), how: howNoticed(term, light) } : none;
}
