/** What labels are made of a roll: of numbers on nothing and on no label yet; what cannot be made, in words. */

import type { RollCount } from "./custody.ts";
import type { Families } from "./fields.ts";
import { run } from "./tag.ts";
import type { DayRecord } from "./types.ts";
import { listed } from "./values.ts";
import { countWords } from "./words.ts";

export type LabelKind = Families["prints"]["label"];
/** Labels that were made of a roll; `by` is the operation that says so. */
export type Print = Families["prints"] & { print_id: string; by: string; made_at: string; count: number };
type LabelsAsked = { start: number; count: number; pieces: number };
type Row = Families["prints"]["rows"][number];

/** The labels that were made of a roll, the newest first. */
export function printsOf(day: DayRecord, roll_id: string): Print[] {
  return listed(day, "prints/")
    .filter(({ value }) => value.roll_id === roll_id)
    .map(({ id, value, set }) => ({
      ...value,
      print_id: id,
      by: set.operation_id,
      made_at: set.made_at,
      count: value.rows.reduce((sum, row) => sum + row.count, 0),
    }))
    .sort((a, b) => b.made_at.localeCompare(a.made_at));
}

/** The numbers of a roll of which labels can be made: a second label of a number would come onto a second thing. */
export function toPrint(day: DayRecord, roll: Pick<RollCount, "roll_id" | "left">): string[] {
  const rows = printsOf(day, roll.roll_id).flatMap((print) => print.rows);
  const printed = new Set(rows.flatMap((row) => run(row.first_tag, row.count)));
  return roll.left.filter((tag) => !printed.has(tag));
}

/** Numbers of a roll as rows of such as follow each other. */
export function rowsOf(numbers: readonly string[], { first_tag, count }: Row): Row[] {
  const at = new Map(run(first_tag, count).map((tag, index) => [tag, index]));
  const rows: Row[] = [];
  numbers.forEach((tag, index) => {
    const before = numbers[index - 1];
    const row = rows.at(-1);
    if (row && before && at.get(tag) === (at.get(before) ?? 0) + 1) row.count += 1;
    else rows.push({ first_tag: tag, count: 1 });
  });
  return rows.slice(0, MOST_ROWS);
}

/** Why no labels can be made so, each in a sentence; `left` is for how many numbers, `places` how many a sheet has. */
export function whyNoLabels({ start, count, pieces }: LabelsAsked, left: number, places: number): string[] {
  return [
    start > places ? `A sheet has labels 1 to ${places}: begin at one of those.` : "",
    count > left ? tooFew(left) : "",
    pieces > MOST_PIECES ? `A thing has at most ${MOST_PIECES} numbers.` : "",
  ].filter(Boolean);
}

function tooFew(left: number) {
  if (!left) return "Every number of the roll has its label: give out another roll.";
  return `${countWords(left, "number")} of the roll ${left === 1 ? "has" : "have"} no label yet: take no more.`;
}

/** As many as the office prints for one thing. */
const MOST_PIECES = 99;
/** As many as one file is made of. */
const MOST_ROWS = 400;
