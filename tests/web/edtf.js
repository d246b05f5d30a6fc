/**
 * What the tests take for EDTF: the forms that the app writes. Source: the Library of Congress specification (2019);
 * for the days of a month the calendar that the language itself has (ECMA-262: proleptic Gregorian, with a year 0).
 */

/**
 * Whether a string is EDTF of the forms written here: dates, seasons, decades, their marks, intervals and sets.
 * Other valid EDTF is refused too.
 * @param {string} text
 */
export function isEdtf(text) {
  if (text === "XXXX") return true;
  const within = /^\[([^,[\]]*)(,|\.\.)([^,[\]]*)\]$/.exec(text);
  if (within) return inOrder(within[1] ?? "", within[3] ?? "", within[2] === ".." ? "" : null, "");
  const [from = "", to, ...more] = text.split("/");
  if (to === undefined) return isCode(from.replace(/[?~%]$/, ""));
  return more.length === 0 && inOrder(from, to, "..", "[?~%]?");
}

/**
 * Whether two ends are EDTF and not the wrong way round. `open` is how an open end is written, null if none may be.
 * @param {string} from @param {string} to @param {string|null} open @param {string} marks
 */
function inOrder(from, to, open, marks) {
  const ends = [from, to]
    .filter((end) => end !== open)
    .map((end) => end.replace(new RegExp(`${marks}$`), ""));
  if (ends.length === 0 || !ends.every(isCode)) return false;
  const [first = "", last = first] = ends;
  const years = [first, last].map((code) =>
    Number(code.slice(0, code.startsWith("-") ? 5 : 4).replace("X", "0")),
  );
  return years[0] === years[1]
    ? first.length !== last.length || first <= last
    : Number(years[0]) < Number(years[1]);
}

/** Whether it is one unmarked date. @param {string} code */
function isCode(code) {
  if (/^\d{3}X$/.test(code)) return true;
  const found = /^(-?\d{4})(?:-(\d\d)(?:-(\d\d))?)?$/.exec(code);
  if (!found || found[1] === "-0000") return false;
  const [year, month, day] = [Number(found[1]), Number(found[2] ?? 1), Number(found[3] ?? 1)];
  if (month >= 21 && month <= 24) return found[3] === undefined;
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day; // another day if there is no such one
}
