/** Whether a thing may have come into a narrowed list, by what the office's news say of its place in the index. */
import { same } from "./between.ts";
import type { Asked, Found } from "./desk.ts";

/** As `mark` of `intake/cataloguing/search.py`: one word for each value, in whatever letters. */
function mark(of: string, value: string) {
  const plain = value.replace(/[^a-wyz0-9]/gu, (sign) => `x${(sign.codePointAt(0) ?? 0).toString(16)}x`);
  return of + (plain || "xx");
}

/** The marks that a thing has to have. */
function marksAsked({ state, class_id, table_id, worst, day_id, only }: Asked) {
  const chosen = Object.entries({ state, class: class_id, table: table_id, worst, day: day_id })
    .filter(([, value]) => value)
    .map(([of, value]) => mark(of, value === "none" ? "" : value));
  const kinds = only.split(",").filter(Boolean);
  return [...chosen, ...kinds.map((kind) => mark("is", kind))];
}

/** Whether it may be as the list was narrowed: of words only the office knows. `marks`: with spaces between. */
export function mayFit(asked: Asked, marks: string | undefined) {
  if (marks === undefined) return true; // an office of before says none
  const here = new Set(marks.split(" "));
  return ["listed", ...marksAsked(asked)].every((one) => here.has(one));
}

/** What news say of a thing in the index, and what the office makes of the words that a list was asked for. */
export type Indexed = {
  marks?: string | undefined;
  found?: Found | undefined;
  /** As the office searches them; unknown while the list is still what was asked for before. */
  words?: readonly string[] | undefined;
  /** The marks that they are names of. */
  called?: readonly string[] | undefined;
};

/**
 * Whether it may have come to fit, which it did not before, by what of it is found otherwise. Its owner's words are not
 * told: if those changed it may.
 */
export function mayHaveCome(asked: Asked, index: Indexed) {
  const { marks = "", found } = index;
  if (!mayFit(asked, index.marks)) return false;
  if (!found || found.listed) return true;
  if (found.marks && marksAsked(asked).length) return true;
  return asked.words !== "" && (saysSo(index) || isCalledNow(marks, index));
}

/** Whether its own words are others, and one of them may be looked for. */
function saysSo({ found, words }: Indexed) {
  if (found?.words === undefined) return false;
  const own = ownWords(found);
  return !words || words.some((word) => !isPlain(word) || own.some((one) => one.startsWith(word)));
}

const ownWords = (found: Found | undefined) => found?.words?.split(/[\s_]+/) ?? [];

/** Whether one of the words is a name of a mark that it has now and had not. */
function isCalledNow(marks: string, { found, called = [] }: Indexed) {
  if (!found?.marks) return false;
  const before = (found.was ?? "").split(" ");
  const here = marks.split(" ");
  return called.some((mark) => here.includes(mark) && !before.includes(mark));
}

/**
 * Whether a row that is shown may be another by now, or gone from the list: words that came find it no less. An office
 * of before does not say.
 */
export function isRowAnother(asked: Asked, index: Indexed) {
  const { found } = index;
  if (!found?.same || found.marks) return true;
  return (
    asked.words !== "" && Boolean(found.listed || (found.lost && !saysAll(index) && !isCalledStill(index)))
  );
}

/** Whether it is called by what is looked for as it was before, such as “described”: no words are needed for that. */
function isCalledStill({ marks = "", called = [] }: Indexed) {
  const here = marks.split(" ");
  return called.some((mark) => here.includes(mark));
}

/** Whether its own words have all that is looked for, whatever was lost of them. */
function saysAll({ found, words }: Indexed) {
  const own = ownWords(found);
  return Boolean(words?.every((word) => isPlain(word) && own.some((one) => one.startsWith(word))));
}

/**
 * Whether the counts beside a list may be others, by what of a thing is otherwise, which is on none of the pages shown
 * and has not come there. `isOnPages`: it would stand on them if it were as the list was asked.
 */
export function altersCounts(asked: Asked, index: Indexed, isOnPages: boolean) {
  const { marks, found } = index;
  if (marks === undefined || !found) return false; // an office of before does not say
  const now = countedIn(asked, marks);
  const before = found.marks ? countedIn(asked, found.was) : now;
  const isOther = !before || !same(before, now);
  if (!asked.words) return isOther;
  if (!before?.length && !now.length) return !before;
  // Of what is looked for and narrowed no further, all that is found stands on the pages.
  if (isOnPages && !marksAsked(asked).length) return false;
  return isOther || found.marks || found.listed || found.lost || saysSo(index);
}

const GROUPS = {
  state: "state",
  class_id: "class",
  table_id: "table",
  worst: "worst",
  day_id: "day",
  only: "is",
} as const;

/** The counts beside a list in which a thing of these marks is one, if it has the words: by group and mark. */
function countedIn(asked: Asked, marks: string): string[];
/** Null where nobody knows its marks. */
function countedIn(asked: Asked, marks: string | undefined): string[] | null;
function countedIn(asked: Asked, marks: string | undefined): string[] | null {
  if (marks === undefined) return null;
  const here = marks.split(" ");
  const groups = Object.entries(GROUPS) as [keyof typeof GROUPS, string][];
  return groups.flatMap(([group, of]) => {
    // What is asked of its own group is chosen anew, but kinds of trouble, which are chosen beside each other.
    const others = group === "only" ? asked : { ...asked, [group]: "" };
    if (!mayFit(others, marks)) return [];
    return [`any ${of}`, ...here.filter((mark) => mark.startsWith(of)).sort()];
  });
}

/** Whether the index takes a word for one and the same beginning as this does. */
const isPlain = (word: string) => /^[a-z0-9]+$/.test(word);
