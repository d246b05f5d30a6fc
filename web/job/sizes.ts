/** The sizes and counts of a lot in print, in the plan's order, which is the trade's. */
import { fittingIn, isAskedOf } from "./called.ts";
import { countInWords, listInWords } from "./english.ts";
import type { Apart } from "./families.ts";
import type { Size } from "./fields.ts";
import { isInPartAlone } from "./in_part.ts";
import { areOfOneThing, dimensionsOf, type Length, lengthOf, lengthsInWords } from "./lengths.ts";
import { linesListed } from "./listed_pieces.ts";
import { backBefore } from "./on_more.ts";
import { countAlike } from "./piece_open.ts";
import { backInPart } from "./pieces.ts";
import { zoneNameOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Part, type Sentence, sentence, withoutStop } from "./sentences.ts";
import { measureName, SMALL_MM, sizeInWords } from "./size_words.ts";
import { isSeen, isThere } from "./there.ts";
import type { Measure, Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";
import { piecesInWords } from "./which_piece.ts";
import { worded } from "./worded.ts";

/** Beside longer ones, shorter lengths are in millimetres below this, so that one list has one unit. */
const TINY_MM = 10;

/** One size in words. A `length` may be told with others of the same thing, a count names what it `counts`. */
/** Of what is not round these are two sizes. */
const ACROSS = ["length", "width"];
const WHETHER = "whether ";
const WAS_NOT_NOTED = " was not noted";
/** A basis that tells what was measured with a thing, and nothing of which one: "ears included", "without fringes". */
const OF_WHAT_IS_WITH_IT = /\bincluded$|^with(?:out)? /;
const OF_ONE = /\b(?:largest|smallest|longest|tallest)\b/;
/** What shows inside a frame is less than the picture, and no answer to who asks for the size without one. */
const SIGHT = "sight size";
/** What fills a thing weighs with it: in troy ounces that would be read as silver. */
const LOADED = "loaded";
const WEIGHABLE = "weighable";
/** What was found on these is not weighed as silver, whatever was said when it stood on the scale. */
const NO_SILVER = ["loading", "plating"];
/** A bidder asks for these two before any other basis of a weight. */
const GROSS_OR_NET = ["gross", "net"];

type SizePart = Part & {
  length: Length | null;
  counts: string;
  isCount: boolean;
  isBare: boolean;
  isLength: boolean;
  isSight: boolean;
  open: string;
};
type Wanted = { of?: "lot" | "answer"; measures?: string[]; apart?: Apart };

/**
 * What was measured, all of it or these `measures` in their order: "Height by width 40.5 x 61.0 cm sight size and with
 * frame 56.0 x 76.5 cm.", "Weight 518 g gross." In a `lot` whoever measured may have noted of what: "(without the
 * lid)". What the desk keeps `apart` is a sentence by itself.
 */
export function sizeSentences(
  plan: Plan | null,
  book: PlanBook,
  record: RecordCopy,
  { of = "answer", measures, apart }: Wanted = {},
): Sentence[] {
  const parts = sizeParts(plan, book, record, of);
  const isOf = (measure: string, { from }: Part) => from[0] === `measures/${measure}`;
  const wanted = measures?.flatMap((measure) => parts.filter((part) => isOf(measure, part))) ?? parts;
  const isAllCounted = wanted.every(({ isCount }) => isCount);
  const groups = groupedBy(wanted, (part) => {
    // What was counted is read by itself: "height 43.0 cm, 24 plates called for" are no two sizes.
    const alone = part.isCount && !isAllCounted ? "counted " : "";
    return `${alone}${apart?.(sizeKey(part)) ?? ""}${takenOf(record, part)}`;
  });
  return [...groups.values()].map((some) =>
    sentence(
      listInWords(inPhrases(book, record, some)) +
        notNoted(
          [
            ...some.map(({ open }) => open),
            measures ? sightWords(some) : "",
            ...ofWhichWords(record, some),
          ].filter(Boolean),
        ),
      some.flatMap(({ from }) => from),
      some.map(sizeKey),
    ),
  );
}

/** Who asks for the size of a picture asks for all of it. */
function sightWords(parts: SizePart[]) {
  return parts.some(({ isSight }) => isSight) ? "the size out of the frame was not taken" : "";
}

/** "; whether the ears are included, and whether the other is the same, was not noted": of several that, once. */
function notNoted(open: string[]) {
  const isOpen = (words: string) => words.startsWith(WHETHER) && words.endsWith(WAS_NOT_NOTED);
  const whether = open.filter(isOpen).map((words) => words.slice(0, -WAS_NOT_NOTED.length));
  const rest = open.filter((words) => !isOpen(words));
  const all = whether.length > 1 ? `${whether.join(", and ")},` : whether[0];
  return [...rest, ...(all ? [all + WAS_NOT_NOTED] : [])].map((words) => `; ${words}`).join("");
}

/** Of several things a bare size may be that of one or of all of them, and a weight of some that went back since. */
function ofWhichWords(record: RecordCopy, parts: SizePart[]): string[] {
  const all = countAlike(record);
  const [first] = parts;
  const taken = first ? takenOf(record, first) : "";
  const bare = all > 1 ? parts.filter(({ isBare }) => isBare) : [];
  // A height is that of one; what was weighed may be all of them.
  const isOfOne = !taken && bare.every(({ isLength }) => isLength);
  const ofAll = all === 2 ? "both" : `all ${piecesInWords(record, all)}`;
  const others = all === 2 ? "the other is" : "the others are";
  const open = isOfOne ? `whether ${others} the same` : `whether of one or of ${ofAll}`;
  return [taken, bare.length ? open + WAS_NOT_NOTED : ""];
}

/** Of what was measured while more of the pieces were here: "taken when all nine were here". */
function takenOf(record: RecordCopy, { from }: Part): string {
  const [all, back] = [countAlike(record), backInPart(record)];
  const set = record.fields[from[0] ?? ""];
  if (all < 2 || !back || !set) return "";
  const here = all - backBefore(record, set);
  if (here <= all - back) return "";
  const whole = all === 2 ? "both" : `all ${piecesInWords(record, all)}`;
  return `taken when ${here === all ? whole : countInWords(here)} were here`;
}

/** Lengths of one thing are one phrase, and what the phrase before began with is not said once more. */
function inPhrases(book: PlanBook, record: RecordCopy, parts: SizePart[]): string[] {
  const groups: SizePart[][] = [];
  for (const part of parts) {
    const last = groups.at(-1);
    if (last && areOfOneThing([...last, part].map(({ length }) => length))) last.push(part);
    else groups.push([part]);
  }
  let before = "";
  return groups.map((group) => {
    const lengths = acrossIfRound(
      record,
      group.flatMap(({ length }) => length ?? []),
    );
    const isJoined = group.length > 1;
    const words = isJoined ? lengthsInWords(lengths, book.print.sizes) : (group[0]?.words ?? "");
    const begins = dimensionsOf(lengths) || (group[0]?.counts ?? "");
    const isSame = begins !== "" && begins === before && lengths[0]?.of !== "";
    before = begins;
    return isSame ? words.replace(`${begins} `, "") : words;
  });
}

/** Of what is round by its own words, length and width that are equal are its diameter. */
function acrossIfRound(record: RecordCopy, lengths: Length[]): Length[] {
  const [first, second] = lengths;
  const isAcross = lengths.length === 2 && lengths.every(({ dimension }) => ACROSS.includes(dimension));
  const isRound = isAskedOf(record, { named: ["round", "circular"] });
  if (!first || !isAcross || !isRound || first.value !== second?.value) return lengths;
  return [{ ...first, dimension: "diameter" }];
}

function sizeParts(plan: Plan | null, book: PlanBook, record: RecordCopy, of: "lot" | "answer"): SizePart[] {
  // Over which of its parts it was measured: of a jug with no spout it is over the handle.
  const known = plan?.measures.map((measure) => worded(plan, record, measure)) ?? [];
  const others = listed(record, "measures/")
    .filter(({ id }) => !known.some(({ measure }) => measure === id))
    .map(({ id, value }) => unknownMeasure(id, value))
    .sort((a, b) => a.measure.localeCompare(b.measure));
  const taken = [...known, ...others].flatMap((measure) => {
    const size = fieldValue(record, `measures/${measure.measure}`);
    return size?.value ? [{ measure, size, value: size.value }] : [];
  });
  const isLarge = taken.some(({ size, value }) => size.unit === "mm" && value >= SMALL_MM);
  const below_mm = isLarge ? TINY_MM : SMALL_MM;
  const isSilver = isAllSilver(plan, book, record);
  return taken.map(({ measure: plain, size: typed, value }) => {
    const measure = isSilver ? plain : { ...plain, troy: false };
    const size = isSilver || typed.basis?.trim() !== WEIGHABLE ? typed : { ...typed, basis: "" };
    const words = measureInWords(measure, size, value, book, record, below_mm);
    const noted = of === "lot" ? noteOn(plan, record, measure) : null;
    const field = `measures/${measure.measure}`;
    const isPlain = size.unit === "mm" && !measure.read_off && !noted;
    const on = size.basis?.trim() ?? "";
    const length = isPlain ? lengthOf(nameOn(measure, record), { value, on, below_mm }) : null;
    const counts = size.unit === "n" ? countedBy(measure, known) : "";
    const isPlainlySaid = size.unit !== "n" && !measure.read_off;
    // Gross or net says nothing of how many were weighed; of unlike pieces nobody weighs one.
    const isWeighed = size.unit === "g" && !linesListed(record).length;
    // The largest of several is one of them.
    const isOfOneKnown = OF_ONE.test(nameOn(measure, record));
    const isBare =
      isPlainlySaid &&
      !isOfOneKnown &&
      !noteOn(plan, record, measure) &&
      (!on || isWeighed || OF_WHAT_IS_WITH_IT.test(on));
    const isLength = size.unit === "mm" && !linesListed(record).length;
    // Whether what sticks up was measured with it is asked of what has it.
    const over = plan?.zones.filter(({ zone }) => measure.open?.zones.includes(zone)).flatMap(keysOf) ?? [];
    const isOpen = isPlainlySaid && !noted && !on && measure.bases.length > 0;
    const isOver = over.some((key) => isThere(record, key)) && isAskedOf(record, measure.open ?? {});
    const open =
      (isOpen && isOver && measure.open?.words) ||
      (isOpen && size.unit === "g" && ofWhatWeighed(measure)) ||
      "";
    const isCount = size.unit === "n";
    const isSight = on === SIGHT;
    const said = { length, counts, isCount, isBare, isLength, isSight, open };
    return noted
      ? { ...said, words: `${words} (${noted.note})`, from: [field, noted.field] }
      : { ...said, words, from: [field] };
  });
}

/** Whether nothing was found on it that is weighed with it and is no silver, or on some pieces alone. */
function isAllSilver(plan: Plan | null, book: PlanBook, record: RecordCopy) {
  const isOfAll = (zone: string) =>
    isSeen(record, zone) && !(plan && isInPartAlone({ plan, book, record }, [zone]));
  return !NO_SILVER.some(isOfAll);
}

/** What is counted twice: the plates and maps that are called for, and those that are present. */
function countedBy(measure: Measure, known: Measure[]) {
  const whole = known.find(
    (other) => other.measure === measure.short_of || other.short_of === measure.measure,
  );
  const [words, others] = [measure, whole].map((of) => (of ? measureName(of).split(" ") : []));
  const at = words?.findIndex((word, index) => word !== others?.[index]) ?? -1;
  return words?.slice(0, Math.max(at, 0)).join(" ") ?? "";
}

/** What was noted of the test that took a measure alone. */
function noteOn(plan: Plan | null, record: RecordCopy, { measure }: Measure) {
  const test = plan?.tests.find(({ measures }) => measures.length === 1 && measures.includes(measure))?.test;
  const made = test && fieldValue(record, `tests/${test}`);
  const note = made && made.result === "works" ? withoutStop(made.note ?? "") : "";
  return note ? { note, field: `tests/${test}` } : null;
}

/** What a sentence speaks of that tells a size, or a number of things: `sizes/height`, `counted/hands`. */
function sizeKey({ from }: Part) {
  return (from[0] ?? "").replace("measures/", "sizes/");
}

export function countKey({ from }: Part) {
  return (from[0] ?? "").replace(/^(zones\/|(?=pieces))/, "counted/");
}

function unknownMeasure(measure: string, { unit }: Size): Measure {
  return {
    measure,
    unit,
    most: Infinity,
    words: measure.replaceAll("-", " "),
    print: null,
    bases: [],
    of: [],
    troy: false,
  };
}

function measureInWords(
  measure: Measure,
  { unit, basis }: Size,
  value: number,
  book: PlanBook,
  record: RecordCopy,
  below_mm: number,
) {
  const name = nameOn(measure, record);
  const on = basis?.trim() ?? "";
  if (unit === "n") {
    const counted = value === 1 ? (measure.one ?? name) : name;
    return [countInWords(value), counted, on].filter(Boolean).join(" ");
  }
  if (measure.read_off) return `${name} ${value} mm${on ? ` ${on}` : ""}`;
  const size = sizeInWords(
    { value, unit },
    { ...book.print.sizes, troy: measure.troy && on !== LOADED },
    below_mm,
  );
  // "Height of the figure 18.2 cm", but "length 193.0 cm without fringes".
  if (on.startsWith("of ") && unit === "mm") return `${name} ${on} ${size}`;
  // "Weight 518 g gross", "193.0 cm without fringes", but "21.0 cm, ears not included".
  const basis_words = on && `${on.endsWith(" included") ? "," : ""} ${on}`;
  return `${name} ${size}${basis_words}`;
}

/** A weight without a basis may be anybody's guess of what was on the scale. */
function ofWhatWeighed({ bases }: Measure) {
  const both = bases.filter((basis) => GROSS_OR_NET.includes(basis));
  return `whether ${listInWords(both.length === GROSS_OR_NET.length ? both : bases, "or")}${WAS_NOT_NOTED}`;
}

/** What is measured, by what that is called on such a thing. */
export function nameOn(measure: Measure, record: RecordCopy) {
  return fittingIn(measure.called, record)?.print ?? measureName(measure);
}

/** What a count that falls short speaks of: fewer plates are there than the book should have. */
export function shortCounts({ plan, record }: { plan: Plan; record: RecordCopy }): Measure[] {
  const countOf = (measure: string | null | undefined) =>
    measure ? fieldValue(record, `measures/${measure}`)?.value : undefined;
  return plan.measures.filter(({ measure, short_of }) => {
    const [counted, whole] = [countOf(measure), countOf(short_of)];
    return typeof counted === "number" && typeof whole === "number" && counted < whole;
  });
}

/** What was counted on zones: "three hands", "23 pieces". */
export function countWords(plan: Plan | null, book: PlanBook, record: RecordCopy): Part[] {
  return (plan?.zones ?? []).flatMap(({ zone }) => {
    const state = fieldValue(record, `zones/${zone}`);
    if (!state?.count || state.state === "not-examined") return [];
    const name = zoneNameOf(book, zone);
    const [single, many] = name.counted ?? [name.one, name.many];
    const count = countInWords(state.count);
    const noun = state.count === 1 ? single : many;
    return [{ words: noun ? `${count} ${noun}` : `${single} (${count})`, from: [`zones/${zone}`] }];
  });
}
