/** Of a pair or a set, that nobody noted on which of it something was found. */
import { countInWords, listInWords, numberOf } from "./english.ts";
import { type Described, saysOf, termOf, WHOLE } from "./families.ts";
import { nameOf } from "./fault_names.ts";
import type { FindingValue } from "./fields.ts";
import { type FindingSentence, findingSentences } from "./finding_sentences.ts";
import { linesHere, linesListed } from "./listed_pieces.ts";
import { isInParts, isUnderOne, partWords, piecesBack } from "./number_parts.ts";
import { oneThing } from "./one_thing.ts";
import { countAlike, isOfPieces, isPieceOpen, saysWhich } from "./piece_open.ts";
import { arePiecesZones } from "./piece_zones.ts";
import { SET } from "./pieces.ts";
import { nounOf, zoneNameOf, zoneOf } from "./places.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isCalled, wordsIn } from "./there.ts";
import { isFindingTurned } from "./turned_findings.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { arePiecesOpen } from "./unsettled.ts";
import { fieldValue, groupedBy, isContested, listed } from "./values.ts";
import { ofLine, ownWords, piecesInWords } from "./which_piece.ts";
import { isBackWithOwner, pieceCount, pieceOfSide, piecesAway } from "./with_owner.ts";
import { firstUpper, isOrAre } from "./words.ts";
import { isCountable } from "./zone_says.ts";

/** What each of a pair has one of: whose side it is says which of the two is meant. */
const ONE_EACH = /^ear-fittings\/./;
/** Of more faults than these no list is read out. */
const MOST_NAMED = 2;

/** Of what went back in part, how many of how many are here, and what went. */
export function awaySentences({ record }: Pick<Described, "record">): Sentence[] {
  const away = isBackWithOwner(record) ? [] : piecesAway(record);
  if (!away.length) return [];
  const gone = listed(oneThing(record), "tags/").filter(({ value }) => away.includes(value.piece ?? 1));
  const inParts = isInParts(record);
  if (inParts && !piecesBack(record)) {
    const names = listInWords([...new Set(gone.map(({ value }) => partWords(record, value)))]);
    const words = `${firstUpper(names)} went back to ${away.length === 1 ? "its" : "their"} owner`;
    return [
      sentence(
        words,
        gone.map(({ id }) => `tags/${id}`),
      ),
    ];
  }
  const of = inParts ? countAlike(record) : Math.max(pieceCount(record), countAlike(record));
  const here = of - piecesBack(record);
  const went = `${wentInWords(record, away)} went back to ${away.length === 1 ? "its" : "their"} owner`;
  const from = gone.map(({ id }) => `tags/${id}`);
  return [sentence(`${countInWords(here)} of the ${countInWords(of)} ${isOrAre(here)} here; ${went}`, from)];
}

/**
 * Which pieces went, as the text calls them: by the list of them, by side or order of a pair, else by their number.
 */
function wentInWords(record: RecordCopy, away: readonly number[]): string {
  const lines = linesHere(record).filter(({ words, count, all }) => words && count < all);
  const ofList = lines.map(({ words, count, all }) => ofLine({ words, count: all }, all - count));
  const left = away.length - lines.reduce((sum, { count, all }) => sum + all - count, 0);
  if (!lines.length && countAlike(record) === 2 && away.length === 1) return oneOfTwo(record, away[0] ?? 1);
  // Under one number with all the others it has no place among them.
  const isCounted = lines.length > 0 || isUnderOne(record);
  const others = isCounted ? countInWords(left, true) + (lines.length ? " more" : "") : byNumber(away);
  return listInWords([...ofList, ...(left > 0 ? [others] : [])]);
}

function oneOfTwo(record: RecordCopy, piece: number) {
  const side = (["left", "right"] as const).find((name) => pieceOfSide(record, name) === piece);
  return side ? `the ${side} one` : piece === 1 ? "the first" : "the second";
}

function byNumber(away: readonly number[]) {
  return `${away.length === 1 ? "piece" : "pieces"} ${listInWords(away.map(String))}`;
}

/** Said once behind what was found on a pair or a set: of which of it nobody noted on which pieces it is. */
export function pieceSentences(
  described: Described,
  said: readonly FindingSentence[] = findingSentences(described),
): Sentence[] {
  const { plan, record } = described;
  const all = countAlike(record);
  // Of what there is one of for all of them, such as the clockwork of a train, nobody asks which has it.
  const ofAll = (plan.of_many ?? []).flatMap(({ named, one }) =>
    isCalled(record, named) ? (one ?? []) : [],
  );
  const isOfNone = ({ zone }: FindingValue) => ofAll.includes(zoneOf(zone)) || ONE_EACH.test(zone);
  if (arePiecesZones(described)) return [];
  const isAsked = (one: FindingValue) =>
    !isOfNone(one) &&
    !isOfLine(record, one) &&
    (isPieceOpen(record, one) || isOnSomeUntold(described, one, all));
  const isOpen = (one: FindingValue) => isAsked(one) || (!isOfNone(one) && isCountNoted(one, all));
  const isSettled = isSettledByDesk(described);
  const isTwice = (key: string) => arePiecesOpen(record, key); // which it is, is told with it as not settled
  const open = said.filter(
    ({ about, keys }) => about.some(isOpen) && !keys.some((key) => isSettled(key) || isTwice(key)),
  );
  if (!open.some(({ about }) => about.some(isAsked))) return [];
  if (!all) return uncounted(described, open);
  if (all < 2) return [];
  const faults = open.flatMap(({ about }) => about.filter(isOpen));
  const [first] = faults;
  const isOne = faults.length === 1 && (first?.extent_count ?? 1) === 1 && (first?.piece_count ?? 1) === 1;
  const isKnown = (one: FindingValue) =>
    one.zone === SET ? one.severity > 0 : isOfPieces(one) && !isOpen(one);
  const isBesideOthers = said.some(({ about }) => about.some(isKnown));
  const others = isBesideOthers ? "other " : "";
  const told = said.flatMap(({ about }) => about.filter((one) => !isOpen(one)));
  const isTold = faults.some(({ term }) => told.some((one) => one.term === term));
  const named = isTold ? null : namedInWords(described, faults, isOne);
  const what = named || { words: `the ${others}${isOne ? "fault" : "faults"}`, many: !isOne };
  const from = record.fields.pieces ? "pieces" : `zones/${SET}`;
  const of = `of the ${piecesInWords(record, all)}`;
  // "The marks are not legible" is one fault, and reads as several.
  const isOfMany = first && zoneNameOf(described.book, zoneOf(first.zone)).plural;
  const words =
    isOne && !named && !others && isOfMany && !isCountable(described, first)
      ? `on which ${of}`
      : isSmelledAlone(described, faults)
        ? `which ${of} ${(first?.piece_count ?? 1) > 1 ? "have" : "has"} ${what.words}`
        : `which ${of} ${what.words} ${isOrAre(what.many ? 2 : 1)} on`;
  return [sentence(`not noted: ${words}`, [from], ["which-piece"])];
}

/** Whether a note names a line of the list of pieces: "rims of the cups". */
function isOfLine(record: RecordCopy, { note, piece_count }: FindingValue) {
  const words = wordsIn(note);
  return (
    !piece_count && linesListed(record).some(({ value }) => words.includes(wordsIn(value.words).at(-1) ?? ""))
  );
}

/** A smell is of a thing, and not on it. */
function isSmelledAlone({ book }: Described, faults: FindingValue[]) {
  return faults.every(({ term }) => termOf(book, term)?.sense === "smell");
}

/** Of what holds many alike, by its name, and was not counted: nobody knows how many, nor which of them is meant. */
function uncounted({ plan, record }: Described, open: readonly FindingSentence[]): Sentence[] {
  const of = plan.of_many?.find(({ named }) => isCalled(record, named));
  if (!of) return [];
  const faults = open.flatMap(({ about }) => about.filter((one) => isPieceOpen(record, one)));
  const isOne = faults.length === 1 && (faults[0]?.extent_count ?? 1) === 1;
  const words = isOne ? "the fault is on" : "the faults are on";
  // How many there should be, and how many of them there are, may have been counted.
  const counted = plan.measures.find(
    ({ measure, short_of }) => short_of && fieldValue(record, `measures/${measure}`)?.value,
  );
  const count = counted && fieldValue(record, `measures/${counted.measure}`)?.value;
  if (counted && count)
    return [
      sentence(
        `not noted: which of the ${countInWords(count)} ${of.many} ${words}`,
        [`measures/${counted.measure}`],
        ["which-piece"],
      ),
    ];
  return [
    sentence(`neither the number of ${of.many} nor which of them ${words} was noted`, [], ["which-piece"]),
  ];
}

type Named = { words: string; many: boolean };

/** Of few faults each by its name: "the other ones" may be those that were told just before. */
function namedInWords({ book }: Described, faults: FindingValue[], isOne: boolean): Named | null {
  const byTerm = [...groupedBy(faults, ({ term }) => term)];
  const isNoun = ([name]: (typeof byTerm)[number]) => {
    const term = termOf(book, name);
    // An inscription that is altered is an altered inscription.
    const isPart = Boolean(term?.part && term.noun && byTerm.length > 1);
    return isPart || Boolean(term && !term.says && !term.verbs && (term.noun || term.plural));
  };
  const [only, second] = faults;
  if (only && !second && !isNoun([only.term, faults])) return changedInWords(book, only);
  if (byTerm.length > MOST_NAMED || !byTerm.every(isNoun)) return null;
  const asMany = (one: FindingValue) => {
    const isMany = termOf(book, one.term)?.part && zoneNameOf(book, zoneOf(one.zone)).plural;
    const count = Math.max(one.extent_count ?? 0, one.piece_count ?? 0);
    return { ...one, extent_count: count || (isMany ? 2 : null) };
  };
  const words = listInWords(byTerm.map(([term, some]) => `the ${nameOf(book, term, some.map(asMany))}`));
  // Of what cannot be counted there is one, on however many: "which of the five the loss of paint is on".
  const isCounted = byTerm.some(([term]) => termOf(book, term)?.plural);
  return { words, many: byTerm.length > 1 || (!isOne && isCounted) };
}

/** "the altered naming", "the replaced roofs": of what a zone is, where one word says that. */
function changedInWords(
  book: PlanBook,
  { term: name, zone, extent_count, piece_count }: FindingValue,
): Named | null {
  const says = saysOf(termOf(book, name), zone);
  const place = zoneNameOf(book, zoneOf(zone));
  if (!says || / /.test(says) || zone === WHOLE || place.plural) return null;
  if (place.of_each) return { words: `the ${says} ${nounOf(place, 2)}`, many: true };
  const isCounted = (extent_count ?? 1) > 1 || ((piece_count ?? 1) > 1 && Boolean(place.many));
  return isCounted ? null : { words: `the ${says} ${place.one}`, many: false };
}

/** Whether a fault is on so many of them, and nothing says which those are. */
function isOnSomeUntold({ plan, record }: Described, finding: FindingValue, all: number) {
  const { piece_count: count, note } = finding;
  const isOnSome = isOfPieces(finding) && Boolean(count) && (count ?? 0) < all;
  const isTold = saysWhich(record, note ?? "") || namesKinds(plan, record, note ?? "");
  return isOnSome && !ownWords(finding) && !isTold;
}

/**
 * Whether a note names things of a kind that the plan knows, and that are not all of it: "table knives" of a canteen.
 */
function namesKinds({ kinds = [] }: Plan, record: RecordCopy, note: string) {
  const named = new Set(kinds.flatMap((kind) => kind.named));
  const called = wordsIn(fieldValue(record, "short_description") ?? "");
  return wordsIn(note).some((word) => word.endsWith("s") && named.has(word) && !called.includes(word));
}

/** Whether a note says on how many of them a fault is: nobody asks for more; beside others it is not known which. */
function isCountNoted(finding: FindingValue, all: number) {
  const noted = countNoted(finding.note ?? "") ?? all;
  return isOfPieces(finding) && !finding.piece && !ownWords(finding) && noted < all;
}

/** The number of a note that says on how many of them a fault is and no more: "from one bottle of the five". */
function countNoted(note: string): number | null {
  const [, count = ""] =
    /^(?:from|on|of|to|in) (\p{L}+|\d+)(?: (?!of\b)\p{L}+)? of (?:them|these|the [\p{L}\d]+)\W*$/iu.exec(
      note,
    ) ?? [];
  return numberOf(count) || null;
}

/** Whether the desk struck a finding, so that nobody asks where that is, or wrote itself which piece it is on. */
function isSettledByDesk(described: Described) {
  const { record } = described;
  const versions = listed(record, "sentences/").filter(
    ({ value: { version, words } }) =>
      version === "struck" || (version === "rewritten" && saysWhich(record, words)),
  );
  return (key: string) =>
    versions.some(
      ({ value: { speaks_of, record_words, version } }) =>
        speaks_of.includes(key) &&
        !isContested(record, key) &&
        !isFindingTurned(described, record_words, key.replace("findings/", ""), version === "struck"),
    );
}

/** Whether it is asked otherwise now than in what the record said before: of one fault or of more, or of how many. */
export function isOpenOtherwise(described: Described, before: string): boolean {
  const [now] = pieceSentences(described);
  if (!now || !before) return !now;
  const partsOf = (words: string) => [
    /which of the ([^\s.]+)/.exec(words)?.[1],
    /: on which of\b/.test(words) ? "is" : /\b(is|are) on\b/.exec(words)?.[1],
  ];
  const parts = partsOf(now.words);
  return partsOf(before).some((part, at) => part && parts[at] && part !== parts[at]);
}
