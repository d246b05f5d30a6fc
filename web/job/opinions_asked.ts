/** Asked whether something is original or belongs, of what nobody has said so much. */

import { isAsked } from "./asked_zones.ts";
import { INTERVENTION, isAmong, type OnZone } from "./bears_on.ts";
import { hasOneEach, isAskedOf } from "./called.ts";
import { listInWords } from "./english.ts";
import { type Described, deniedBy, termOf, touch, WHOLE } from "./families.ts";
import type { Families, FindingValue } from "./fields.ts";
import { isGone, isMissing } from "./gone.ts";
import { itOrThem } from "./looked.ts";
import { placesOnOthers } from "./other_pieces.ts";
import { nounOf, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isNamedIn } from "./there.ts";
import type { Question } from "./types.ts";
import { isExamined, isOfMany } from "./uncopied.ts";
import { fieldValue, type Listed, listed } from "./values.ts";
import { isOnSomePieces } from "./which_piece.ts";

/** A mend says nothing of whether what was mended is original or belongs. */
const MENDS = ["restuck", "rivet-repair", "re-sewn", "patched", "solder-repair", "tape-repair", "resized"];
/** Whether parts belong to each other is told by what is another's or new, not by what was made of the part itself. */
const ANOTHERS = ["associated-part", "replaced-part"];
const MADE_OF_IT = ["restored", "repaired", "refinished", "altered"];
const OF_BELONGING = /\b(belongs?|right|of one instrument)\b/;
/** "Whether they are right for this case": those that are there are named where others are not. */
const OF_THEM = /\bthey\b/;
const OF_ALL = /\b(?:all|both|each|every)\b/i;
const OF_MAKER = ["maker", "marks", "evidence"];
const MADE_BY =
  /^in our opinion: (?:\w+bly )?(?:by|after|attributed to|in the manner of|(?:workshop|circle|follower) of) /i;

/** Whether an opinion is of who made it, and nobody asks that: it says nothing of whether a frame is original. */
export function isOfMakerAlone(
  { book }: Described,
  { facts, zones, unless_origin }: Question,
  { words }: Sentence,
) {
  const isNamed = zones.some((zone) => isNamedIn(words, zoneNameOf(book, zone)));
  const isOfAll = OF_BELONGING.test(unless_origin ?? "");
  return !isOfAll && !isNamed && !facts.some((fact) => OF_MAKER.includes(fact)) && MADE_BY.test(words);
}

/** Asked whether something is original or belongs, silence is no opinion, however well it was looked at. */
export function noOpinion(described: Described, question: Question, known: Sentence[]): Sentence[] {
  const { plan, book, record } = described;
  const unless_origin = unlessOrigin(described, question);
  if (!unless_origin || (question.in_one && isAskedOf(record, question.in_one))) return [];
  const named = question.zones.filter((zone) => isNamedIn(unless_origin, zoneNameOf(book, zone)));
  // Of a frame that is not there nobody asks whether it is the original one.
  const isRestGone = (question.of_rest?.zones ?? []).every((zone) => isGone(described, zone));
  const isOfWhole = question.of_rest && question.zones.includes(WHOLE);
  if (isRestGone && !isOfWhole && named.length && named.every((zone) => isGone(described, zone))) return [];
  if (isOfNothing(described, question)) return [];
  const isOfBelonging = OF_BELONGING.test(unless_origin);
  // That it was seen out of its frame is no opinion of the frame.
  const isOfLook = (statement: string) =>
    plan.negatives.some(({ negative, shows }) => negative === statement && shows?.length);
  const isOpinion = (field: string) =>
    question.statements.some((one) => field === `statements/${one}` && !isOfLook(one)) ||
    (isOfBelonging ? isOfAnothers : isOfIntervention)({ book, record }, field);
  const isOfQuestion = ({ id, value }: Listed<Families["origins"]>) =>
    value.origin !== null &&
    !(isOfBelonging && MADE_OF_IT.includes(value.origin)) &&
    isAsked(plan, question, id);
  const origins = listed(record, "origins/").filter(isOfQuestion);
  const opinions = known.flatMap(({ from }) => from.filter(isOpinion));
  if (isJudged(described, question)) return [];
  // What we think of the whole may answer it or not: the words are the valuer's own.
  const concluded = known.find(({ from }) => from.includes("concluded_words"))?.words ?? "";
  const begin = concluded ? "beyond this, " : "";
  const isIn = (words: string, zone: string) => isNamedIn(words, zoneNameOf(book, zone));
  const thought = question.zones.filter((zone) => isIn(concluded, zone));
  if (!origins.length && !opinions.length && !thought.length) {
    const ofRest = question.of_rest?.zones ?? [];
    const named = ofRest.filter((zone) => isIn(unless_origin, zone));
    const meant = OF_THEM.test(unless_origin) ? ofRest : named;
    const isOfGone = meant.some((zone) => isGone(described, zone));
    const rest = isOfGone ? noOpinionOfRest(described, question, [], begin) : [];
    if (rest.length) return rest;
    // Nobody looked at what is there of it: what the thing never had is not asked for with that.
    const there = isOfGone ? meant.filter((zone) => !isGone(described, zone)) : [];
    if (!there.length || !question.of_rest) return [sentence(begin + unless_origin, [])];
    const { words, many } = placesOf(plan, book, there, "all");
    const is = many ? question.of_rest.many : question.of_rest.one;
    return [sentence(`${begin}whether ${words} ${is} was not noted`, [])];
  }
  const judged = [
    ...thought,
    ...origins.map(({ id }) => id),
    ...opinions.map((field) => (fieldValue(record, field as `findings/${string}`) as Partial<OnZone>).zone),
  ];
  // What is said of the examination itself, such as "not determined whether they belong", names no zone.
  return judged.every((zone) => zone !== undefined)
    ? noOpinionOfRest(described, question, judged, begin, {
        onPieces: onPiecesAlone(described, opinions, judged),
        inPart: judgedInPart(described, opinions, judged),
      })
    : [];
}

/** Zones of several things, such as handles, of which all that was judged is some: how many is open, or not all. */
function judgedInPart({ book, record }: Described, opinions: string[], judged: (string | undefined)[]) {
  const found = opinions.flatMap((field) =>
    field.startsWith("findings/") ? (fieldValue(record, field as `findings/${string}`) ?? []) : [],
  );
  const countOf = (zone: string) => fieldValue(record, `zones/${zone}`)?.count ?? 0;
  const isInPart = ({ zone, note, extent_count, extent_percent }: FindingValue) => {
    const { plural, together } = zoneNameOf(book, zoneOf(zone));
    if (!plural || together || zone.includes("/") || extent_percent || countOf(zone) === 1) return false;
    return extent_count ? extent_count < countOf(zone) : !OF_ALL.test(note);
  };
  const zones = [...new Set(found.map(({ zone }) => zone))].filter((zone) => {
    const here = found.filter((one) => one.zone === zone);
    return here.every(isInPart) && judged.filter((one) => one === zone).length === here.length;
  });
  return zones.map((zone) => ({ zone, isCounted: countOf(zone) > 1 }));
}

/** Whether a thing has none of what such a question is put of: of no lacquer nobody asks whether it is the first. */
function isOfNothing(described: Described, { zones, of_rest }: Question) {
  const isOfAll = zones.some((zone) => zone === WHOLE || zoneNameOf(described.book, zone).tally);
  return !isOfAll && Boolean(of_rest?.zones.every((zone) => isGone(described, zone)));
}

/** The zones of which all that was judged is what was found on one piece, or some, of several. */
function onPiecesAlone({ record }: Described, opinions: string[], judged: (string | undefined)[]) {
  const zones = opinions.flatMap((field) => {
    const found = field.startsWith("findings/") && fieldValue(record, field as `findings/${string}`);
    return found && isOnSomePieces(record, found) ? found.zone : [];
  });
  const isAlone = (zone: string) =>
    judged.filter((one) => one === zone).length === zones.filter((one) => one === zone).length;
  return new Set(zones.filter(isAlone));
}

/** Whether what was found is what a question takes for an opinion on what is original, or belongs. */
function isOpinionOf({ book }: Described, { unless_origin }: Question, term: string) {
  if (OF_BELONGING.test(unless_origin ?? "")) return isAmong(book, ANOTHERS, term);
  return termOf(book, term)?.family === INTERVENTION && !MENDS.includes(term);
}

function unlessOrigin(described: Described, { unless_origin, unless_origin_of_several }: Question) {
  const isMany = itOrThem(described) === "them" || isOfMany(described);
  return (isMany && unless_origin_of_several) || unless_origin;
}

/** Of which of the zones that are asked about, and that are there and were examined, nobody said so much. */
function noOpinionOfRest(
  described: Described,
  question: Question,
  judged: string[],
  begin: string,
  some: { onPieces: ReadonlySet<string>; inPart: { zone: string; isCounted: boolean }[] } = {
    onPieces: new Set(),
    inPart: [],
  },
): Sentence[] {
  const { plan, book } = described;
  const { of_rest } = question;
  if (!of_rest) return [];
  // Of a thing that has none of the rest, what was judged is a part, and the whole is still asked for.
  if (isOfWhole(described, question, judged))
    return [sentence(begin + (unlessOrigin(described, question) ?? ""), [])];
  const rest = plan.zones
    .filter(({ zone }) => of_rest.zones.includes(zone))
    .flatMap(keysOf)
    .filter((key) => isExamined(described, key) && !isGone(described, zoneOf(key)))
    .filter((key) => !isMissing(described, key) && !judged.some((zone) => touch(plan, zone, key)));
  // What is said of one piece leaves open how it is with the others, though all of them were looked at.
  const isOfRest = (key: string) => of_rest.zones.includes(zoneOf(key));
  const onOthers = placesOnOthers(described, [...some.onPieces].filter(isOfRest), ({ term }) =>
    isOpinionOf(described, question, term),
  );
  const left = some.inPart.filter(({ zone }) => isOfRest(zone) && !some.onPieces.has(zone));
  const ofOthers = [
    ...onOthers,
    ...left.map(({ zone, isCounted }) => ({
      words: `${isCounted ? "the" : "any"} other ${nounOf(zoneNameOf(book, zone), 2)}`,
      many: true,
    })),
  ];
  if (!rest.length && !ofOthers.length) return [];
  const { words, many } = placesOf(plan, book, rest, hasOneEach(book, described.record) ? "unseen" : "all");
  const others = listInWords(ofOthers.map((one) => one.words));
  // "The eyes, the pads, and the left ear of the second": that is of the ear alone.
  const named = [...(rest.length ? [words] : []), ...(others ? [others] : [])].join(
    rest.length > 1 ? ", and " : " and ",
  );
  const isMany = (rest.length > 0 && (many || ofOthers.length > 0)) || ofOthers.some((one) => one.many);
  const is = isMany || ofOthers.length > 1 ? of_rest.many : of_rest.one;
  return [sentence(`${begin}whether ${named}${named.includes(", and ") ? "," : ""} ${is} was not noted`, [])];
}

function isOfWhole(described: Described, { zones, of_rest }: Question, judged: string[]) {
  const isWholeAsked = zones.includes(WHOLE) && !judged.includes(WHOLE);
  return isWholeAsked && Boolean(of_rest?.zones.every((zone) => isGone(described, zone)));
}

/** Whether the mark that is asked about is held for the maker's own, or is not relied on. */
function isJudged({ record }: Described, { facts }: Question) {
  const marks = facts.includes("marks") ? listed(record, "marks/") : [];
  return marks.some(
    ({ value }) => !value.withdrawn && ["makers-own", "not-relied-on"].includes(value.standing ?? ""),
  );
}

/** Whether a field is a finding or a denial of what somebody has done to the thing, more than mend it. */
function isOfIntervention({ book, record }: Pick<Described, "book" | "record">, field: string) {
  const value = record.fields[field]?.value as { term?: string } | undefined;
  const term = value?.term ?? "";
  return termOf(book, term)?.family === INTERVENTION && !MENDS.includes(term);
}

/** Whether a field is a finding or a denial of something new, or of another thing. */
function isOfAnothers({ book, record }: Pick<Described, "book" | "record">, field: string) {
  const { term, origin = null } = (record.fields[field]?.value ?? {}) as Partial<FindingValue>;
  if (!term) return false;
  return isAmong(book, ANOTHERS, term) || deniedBy(book, origin).some((one) => ANOTHERS.includes(one));
}
