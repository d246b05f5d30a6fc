/**
 * A finding as one clause: one fact, its place and its measure together, and the examiner's note as it stands.
 *
 * A term says what its zone is ("the handles are replaced"), or it is a thing on it ("a chip of 3 mm to the rim");
 * which of the two, and with which article and number, is in the vocabulary.
 */

import { extentWords, isSlight, measureOf, oftenOf, shareOf, sides, throughout } from "./extents.ts";
import { type Described, saysOf, seenFindings, termOf, WHOLE } from "./families.ts";
import { HEDGES } from "./fault_nouns.ts";
import type { FindingValue } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { areMany, isNotedAlone, isOnPieces, onlyOne, subjectOf } from "./how_many.ts";
import { originWords } from "./in_lists.ts";
import { wholeInWords } from "./it_called.ts";
import { howNoticed, lightOf, noticed } from "./lights.ts";
import { missingThere, namedByNote } from "./lost.ts";
import { OF_ANOTHERS, partOfIt } from "./parts_noted.ts";
import { SET } from "./pieces.ts";
import { type Place, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { goingOnWith, inBrackets } from "./sentences.ts";
import {
  fromOneNoted,
  hadInWords,
  isUnnamed,
  lostOf,
  ofPieces,
  onWhat,
  onZone,
  withoutName,
} from "./subjects.ts";
import { type Clause, countedLost, doesInWords, hedgedVerb, isCountedByNote, thingOf } from "./things_on.ts";
import type { Term } from "./types.ts";
import { fieldValue } from "./values.ts";
import { lineOf, whichPiece } from "./which_piece.ts";
import { asPartOf, saysWhatZoneIs } from "./zone_says.ts";

/** The whole item has no name beside what is said of it: "it" would be the part that was named before. */
const ALL_OF_IT: Place = { words: "", many: false };
/** What is so of the shape of the whole is so of all of it; anything else is throughout. */
const STRUCTURAL = "structural";
/** What a fault was since, and not what it is on; that nobody could say so needs no place either. */
const OF_FAULTS = ["repaired", "restored", "not-determined"];
const WHAT_OPEN = "; which was not noted";
const WHICH_OPEN = "; which of them was not noted";

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
