/** What a day's closing is read off, made again only after something of the day has changed. */
import { differencesOf, type GatheredDay, gathered, PARTS } from "../job/closing.ts";
import type { Found } from "../job/closing_found.ts";
import { type RollCount, rollCounts } from "../job/custody.ts";
import { type DaySums, sumsOf } from "../job/day_sums.ts";
import { type Load, loadsThatLeft } from "../job/loads.ts";
import { derived } from "./derived.ts";
import { recordOf, records } from "./memory.ts";
import { className, planOf, rowName } from "./plan_book.ts";

const gatheredOfDay = derived((day_id: string): GatheredDay | null => {
  const day = recordOf("day", day_id);
  return day ? gathered({ day, ...onDay(day_id), plan: planOf, rowName, className }) : null;
});

const PARTS_OF_DIFFERENCES = PARTS.map((find) =>
  derived((day_id: string): Found[] => {
    const on = gatheredOfDay(day_id);
    return on ? find(on) : [];
  }),
);

export const differencesOfDay = derived((day_id: string): Found[] =>
  differencesOf((_, index) => PARTS_OF_DIFFERENCES[index]?.(day_id) ?? []),
);

export const rollsOfDay = derived((day_id: string): RollCount[] => {
  const day = recordOf("day", day_id);
  // As *Numbers* counts them: with what else this device holds, since a number may be on a thing of another day.
  return day ? rollCounts(day, records("item") ?? [], records("container") ?? []) : [];
});

export const loadsThatLeftOn = derived((day_id: string): Load[] => {
  const day = recordOf("day", day_id);
  return day ? loadsThatLeft({ day, ...onDay(day_id) }) : [];
});

export const sumsOfDay = derived((day_id: string): DaySums => sumsOf(onDay(day_id)));

function onDay(day_id: string) {
  return {
    visits: records("visit", day_id) ?? [],
    items: records("item", day_id) ?? [],
    containers: records("container", day_id) ?? [],
  };
}

/** What a day's differences are found by, each kept by itself: a screen asks for one a frame. */
export const STEPS_TO_DIFFERENCES: readonly ((day_id: string) => unknown)[] = [
  gatheredOfDay,
  ...PARTS_OF_DIFFERENCES,
  differencesOfDay,
];
/** The sums of its closing the same. */
export const STEPS_TO_SUMS: readonly ((day_id: string) => unknown)[] = [
  rollsOfDay,
  loadsThatLeftOn,
  sumsOfDay,
];
