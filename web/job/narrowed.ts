/** Whether a thing is as a list was narrowed, by the marks that the office's index has of it. */
import type { Asked } from "./desk.ts";

/** As `mark` of `intake/cataloguing/search.py`: one word for each value, in whatever letters. */
function mark(of: string, value: string) {
  const plain = value.replace(/[^a-wyz0-9]/gu, (sign) => `x${(sign.codePointAt(0) ?? 0).toString(16)}x`);
  return of + (plain || "xx");
}

/**
 * Whether it may be: what was searched for in words only the office finds, and one of before says no marks. `marks`:
 * with spaces between.
 */
export function mayFit(asked: Asked, marks: string | undefined) {
  if (marks === undefined) return true;
  const { state, class_id, table_id, worst, only } = asked;
  const chosen = Object.entries({ state, class: class_id, table: table_id, worst })
    .filter(([, value]) => value)
    .map(([of, value]) => mark(of, value === "none" ? "" : value));
  const kinds = only.split(",").filter(Boolean);
  const here = new Set(marks.split(" "));
  return (
    here.has("listed") && [...chosen, ...kinds.map((kind) => mark("is", kind))].every((one) => here.has(one))
  );
}
