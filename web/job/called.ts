/** What zones and sizes are called on a kind of thing, by the words of its own name and description. */

import { numberOf } from "./english.ts";
import { OF_IT } from "./families.ts";
import { isNone } from "./gone.ts";
import { itCalled } from "./it_called.ts";
import { linesListed } from "./listed_pieces.ts";
import { countAlike } from "./piece_open.ts";
import { backInPart } from "./pieces.ts";
import { zoneNameOf } from "./places.ts";
import { isOfThem } from "./typed_names.ts";
import type { Plan, PlanBook, RecordCopy, Term, ZoneCalled } from "./types.ts";
import { fieldValue } from "./values.ts";

/** One thing by its name, of pieces that each have parts of their own. */
const OF_PIECES = /\b(?:service|canteen|(?:group|set|suite) of|\d+ pieces)\b/i;
const SO_MANY_PIECES = /(\p{L}+) pieces\b/iu;

/** Books with the names of a kind of thing, by those names, so that each is made once. */
const kinds = new WeakMap<PlanBook, Map<string, PlanBook>>();

/** Houses' books with what a class calls the terms otherwise, each made once. */
const ofClasses = new WeakMap<PlanBook, Map<string, PlanBook>>();

/** The book in the words of a class: what insects leave in wood is dust. */
function inWordsOf({ class_id, nouns = {}, says_on = {} }: Plan, house: PlanBook): PlanBook {
  if (!Object.keys({ ...nouns, ...says_on }).length) return house;
  const made = ofClasses.get(house) ?? new Map<string, PlanBook>();
  ofClasses.set(house, made);
  const terms = house.vocabulary.terms.map((term) => ({
    ...term,
    noun: nouns[term.term] ?? term.noun,
    says_on: { ...term.says_on, ...says_on[term.term] },
  }));
  const book = made.get(class_id) ?? { ...house, vocabulary: { ...house.vocabulary, terms } };
  made.set(class_id, book);
  return book;
}

/** Books in which what is from another item is from another of what the thing is, each made once. */
const ofThings = new WeakMap<PlanBook, Map<string, PlanBook>>();
const ANOTHER = "another item";

/** "Associated, from another doll" says more than "from another item". */
function inWordsOfThing(book: PlanBook, record: RecordCopy, plan: Plan | null): PlanBook {
  const noun = itCalled(book, record, plan);
  if (!noun) return book;
  const made = ofThings.get(book) ?? new Map<string, PlanBook>();
  ofThings.set(book, made);
  const isSeveral =
    countAlike(record) > 1 || isOfThem(fieldValue(record, "short_description") ?? "", book.print.english);
  const key = `${noun} ${isSeveral}`;
  const worded = (words: string) => words.replace(ANOTHER, `another ${noun}`);
  const ofTerm = (term: Term): Term => ({
    ...term,
    says: term.says && worded(term.says),
    sought: term.sought && worded(term.sought),
    sign_on: Object.fromEntries(
      Object.entries(term.sign_on ?? {}).map(([zone, sign]) => [zone, worded(sign)]),
    ),
    // Of several by one name nobody says that "the toy" is repainted: there it is their paint.
    denied_of: Object.fromEntries(
      Object.entries(term.denied_of ?? {}).flatMap(([zone, of]) =>
        of[0] !== OF_IT ? [[zone, of]] : isSeveral ? [] : [[zone, [noun, noun]]],
      ),
    ),
  });
  const isOf = ({ says, sought, sign_on, denied_of = {} }: Term) =>
    JSON.stringify([says, sought, sign_on]).includes(ANOTHER) ||
    Object.values(denied_of).some(([one]) => one === OF_IT);
  const known =
    made.get(key) ??
    ({
      ...book,
      words: {
        ...book.words,
        originalities: book.words.originalities.map((row) => ({
          ...row,
          print: row.print && worded(row.print),
        })),
      },
      vocabulary: {
        ...book.vocabulary,
        terms: book.vocabulary.terms.map((term) => (isOf(term) ? ofTerm(term) : term)),
      },
    } satisfies PlanBook);
  made.set(key, known);
  return known;
}

/** The book with what its zones are called on a thing like this: the tine of a fork, the blade of a knife. */
export function namedFor(house: PlanBook, record: RecordCopy, plan: Plan | null = null): PlanBook {
  const book = inWordsOfThing(plan ? inWordsOf(plan, house) : house, record, plan);
  const isOfEach = hasOneEach(book, record);
  const fits = book.print.zones.flatMap(({ zone, called, group, beside }) => {
    const isAlone = beside?.zones.every((other) => isNone(record, other)) && !isNone(record, zone);
    const one = group && isAllThereIs(book, record, zone) ? group : null;
    const fit = fittingIn(called, record) ?? inList(called, record) ?? one ?? (isAlone ? beside : null);
    const counted = fit && "counted" in fit ? fit.counted : null;
    // What is called otherwise here has parts of another name, or none: a lamp of a car is no pane.
    const of_each = Boolean(fit && "each" in fit && fit.each);
    const name = fit && { zone, one: fit.one, many: fit.many, counted: counted ?? null, part: null };
    const isSingle = Boolean(fit && "single" in fit && fit.single) && !isOfEach;
    const more = { ...(of_each ? { of_each } : {}), ...(isSingle ? { plural: false } : {}) };
    return name ? [{ ...name, ...more }] : [];
  });
  if (!fits.length && !isOfEach) return book;
  const made = kinds.get(book) ?? new Map<string, PlanBook>();
  kinds.set(book, made);
  const key = JSON.stringify([isOfEach, fits]);
  const zones = book.print.zones.map((name) => {
    const fit = fits.find(({ zone }) => zone === name.zone);
    const called = fit ? { ...name, ...fit } : name;
    // What has no plural by its own name, such as glazing, is no part that each has one of.
    const isPart = name.many && !called.plural && !called.tally;
    if (isOfEach && isPart) return { ...called, many: onEach(book, called.many), of_each: true };
    // Of what each has several of, nobody may have noted on how many it is.
    const isOfSome = name.many && called.plural && !called.tally && !called.together;
    return isOfEach && isOfSome ? { ...called, many: onEach(book, called.many), of_some: true } : called;
  });
  const named = made.get(key) ?? { ...book, print: { ...book.print, zones } };
  made.set(key, named);
  return named;
}

/** "marks on the bodies": where each of several has its own, there is one of what they are on to each. */
function onEach({ print }: PlanBook, many: string | null): string | null {
  const [on, noun] = / on the ([\p{L} -]+)$/u.exec(many ?? "") ?? [];
  const several = noun && print.zones.find(({ one }) => one === noun)?.many;
  return many && on && several ? many.replace(on, ` on the ${several}`) : many;
}

/** Whether several things were counted, each with parts of its own, as a service has: opera glasses are one. */
export function hasOneEach({ print }: PlanBook, record: RecordCopy) {
  const name = fieldValue(record, "short_description") ?? "";
  const isSpelled = Boolean(numberOf(SO_MANY_PIECES.exec(name)?.[1] ?? ""));
  const isListed = linesListed(record).length > 0;
  if (!isListed && !isOfThem(name, print.english) && !OF_PIECES.test(name) && !isSpelled) return false;
  return countAlike(record) - backInPart(record) > 1;
}

/** Whether a thing has this zone of a group, and none of the others. */
function isAllThereIs(book: PlanBook, record: RecordCopy, zone: string) {
  const of = zoneNameOf(book, zone).group?.group;
  const others = book.print.zones.filter((name) => name.group?.group === of && name.zone !== zone);
  return others.every((other) => isNone(record, other.zone)) && !isNone(record, zone);
}

/** The one whose words stand in a line of its list of pieces, where those say what the zone is. */
function inList(called: readonly ZoneCalled[] | undefined, record: RecordCopy): ZoneCalled | null {
  const lines: string[][] = linesListed(record).map(
    ({ value }) => value.words.toLowerCase().match(/\p{L}+/gu) ?? [],
  );
  const isIn = ({ of }: ZoneCalled) => lines.some((words) => of.some((word) => words.includes(word)));
  return called?.find((one) => one.listed && isIn(one)) ?? null;
}

/** The one whose words stand in the thing's name or description; none where two do, since it may have both. */
export function fittingIn<Called extends { of: string[] }>(
  called: readonly Called[] | undefined,
  record: RecordCopy,
): Called | null {
  if (!called?.length) return null;
  const words = describedIn(record, /[^\p{L}]+/gu);
  const fits = called.filter(({ of }) => of.some((word) => words.includes(` ${word} `)));
  return fits.length === 1 ? (fits[0] ?? null) : null;
}

/** What it is called and how it is described, between blanks, so that a word or several can be found whole. */
function describedIn(record: RecordCopy, between: RegExp) {
  const typed = [fieldValue(record, "short_description"), fieldValue(record, "seen_words")];
  return ` ${typed.join(" ").toLowerCase().replaceAll(between, " ")} `;
}

/**
 * Whether what a thing is called, or how it is described, makes something a question of it: a rug on a mount has no
 * frame, and a top that tips has a catch; what is described as mounted as worn leaves nothing open of that.
 */
export function isAskedOf(
  record: RecordCopy,
  { named = [], unless_named = [] }: { named?: readonly string[]; unless_named?: readonly string[] },
) {
  const words = describedIn(record, /[^\p{L}-]+/gu);
  const isNamed = (word: string) => words.includes(` ${word} `);
  return (!named.length || named.some(isNamed)) && !unless_named.some(isNamed);
}
