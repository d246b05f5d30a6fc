/** Whether a thing may have come into a narrowed list, by what the office's news say of its place in the index. */
import type { Asked, Found } from "./desk.ts";

/** As `mark` of `intake/cataloguing/search.py`: one word for each value, in whatever letters. */
function mark(of: string, value: string) {
  const plain = value.replace(/[^a-wyz0-9]/gu, (sign) => `x${(sign.codePointAt(0) ?? 0).toString(16)}x`);
  return of + (plain || "xx");
}

/** The marks that a thing has to have. */
function marksAsked({ state, class_id, table_id, worst, only }: Asked) {
  const chosen = Object.entries({ state, class: class_id, table: table_id, worst })
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

/** What news say of a thing in the index, and the words that a list was asked for, as the office searches them. */
export type Indexed = {
  marks?: string | undefined;
  found?: Found | undefined;
  words?: readonly string[] | undefined;
};

/**
 * Whether it may have come to fit, which it did not before, by what of it is found otherwise. Its owner's words are not
 * told: if those changed it may.
 */
export function mayHaveCome(asked: Asked, { marks, found, words }: Indexed) {
  if (!mayFit(asked, marks)) return false;
  if (!found || found.listed) return true;
  if (found.marks && marksAsked(asked).length) return true;
  if (found.words === undefined || !asked.words) return false;
  const own = found.words.split(/[\s_]+/);
  return !words || words.some((word) => !isPlain(word) || own.some((one) => one.startsWith(word)));
}

/** Whether the index takes a word for one and the same beginning as this does. */
const isPlain = (word: string) => /^[a-z0-9]+$/.test(word);

/** Whether nobody handles it, by its marks. */
export function isLeftAlone(marks = "") {
  return marks.split(" ").includes(mark("is", "alone"));
}
