/** What zones and sizes are called on a kind of thing, by the words of its own name and description. */
import type { PlanBook, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

/** Books with the names of a kind of thing, by those names, so that each is made once. */
const kinds = new WeakMap<PlanBook, Map<string, PlanBook>>();

/** The book with what its zones are called on a thing like this: the tine of a fork, the blade of a knife. */
export function namedFor(book: PlanBook, record: RecordCopy): PlanBook {
  const fits = book.print.zones.flatMap(({ zone, called }) => {
    const fit = fittingIn(called, record);
    return fit ? [{ zone, one: fit.one, many: fit.many }] : [];
  });
  if (!fits.length) return book;
  const made = kinds.get(book) ?? new Map<string, PlanBook>();
  kinds.set(book, made);
  const key = JSON.stringify(fits);
  const zones = book.print.zones.map((name) => {
    const fit = fits.find(({ zone }) => zone === name.zone);
    return fit ? { ...name, ...fit, counted: null } : name;
  });
  const named = made.get(key) ?? { ...book, print: { ...book.print, zones } };
  made.set(key, named);
  return named;
}

/** The one whose words stand in the thing's name or description; none where two do, since it may have both. */
export function fittingIn<Called extends { of: string[] }>(
  called: readonly Called[] | undefined,
  record: RecordCopy,
): Called | null {
  if (!called?.length) return null;
  const typed = ["short_description", "seen_words"].map((field) =>
    fieldValue(record, field as "short_description"),
  );
  const words = ` ${typed
    .join(" ")
    .toLowerCase()
    .replaceAll(/[^\p{L}]+/gu, " ")} `;
  const fits = called.filter(({ of }) => of.some((word) => words.includes(` ${word} `)));
  return fits.length === 1 ? (fits[0] ?? null) : null;
}
