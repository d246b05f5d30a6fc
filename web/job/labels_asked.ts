/** What is asked for of a roll's labels, before the office is asked: words for what it would refuse. */

import type { RollCount } from "./custody.ts";
import { run } from "./tag.ts";

type LabelsAsked = { start: number; count: number; pieces: number };

/** The number with which a roll's labels go on. */
export function firstToPrint({ next, first_tag }: Pick<RollCount, "next" | "first_tag">): string {
  return next ?? first_tag;
}

/** Why no labels can be made so, each in a sentence; `places` is how many are on a sheet. */
export function whyNoLabels(
  { start, count, pieces }: LabelsAsked,
  roll: Pick<RollCount, "next" | "first_tag" | "count">,
  places: number,
): string[] {
  const left = roll.count - run(roll.first_tag, roll.count).indexOf(firstToPrint(roll));
  return [
    start > places ? `A sheet has labels 1 to ${places}: begin at one of those.` : "",
    count > left
      ? `The roll has ${left} ${left === 1 ? "number" : "numbers"} from there on: take no more.`
      : "",
    pieces > MOST_PIECES ? `A thing has at most ${MOST_PIECES} numbers.` : "",
  ].filter(Boolean);
}

/** As many as the office prints for one thing. */
const MOST_PIECES = 99;
