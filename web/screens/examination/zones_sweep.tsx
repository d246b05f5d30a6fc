/** What is said of several zones at once: the screens that ask for it, and the way back, come with a pack. */

import { signal } from "@preact/signals-core";
import type { ComponentChildren, FunctionComponent } from "preact";
import type { Step } from "../../job/progress.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";

export type SweepOf = {
  item: ItemRecord;
  rest: Step[];
  steps: readonly Step[];
  book: PlanBook;
  close: () => void;
  /** What is done, besides closing it, once these zones are called clear. */
  cleared?: (zones: readonly Step[]) => unknown;
};

export type AnyMarkOf = { isAsked: boolean; clear: () => unknown; none: () => unknown };

export type HasNoneOf = {
  book: PlanBook;
  item: ItemRecord;
  steps: Step[];
  step: Step;
  onward: (done: Step[]) => void;
};

/**
 * The screens of a sweep, and what stands above the list of zones for what was said together: null until the pack is
 * loaded, a moment after the first screen, with no network too.
 */
export const sweeps = signal<{
  NeverHad: FunctionComponent<SweepOf>;
  RestClear: FunctionComponent<SweepOf>;
  RestNotExamined: FunctionComponent<SweepOf>;
  /** At a place of marks that nobody spoke of: it is clear with one there, or there is none. */
  AnyMark: FunctionComponent<AnyMarkOf>;
  /** How many zones are called clear with the rest in the light in hand. */
  covered: (steps: readonly Step[], item: ItemRecord) => number;
  /** On a zone that nobody spoke of, and that many such things have not. */
  HasNone: FunctionComponent<HasNoneOf>;
  /** That it never had a zone, nor what lies in it, which stands for both; false where nothing else lies in it. */
  sayNone: (of: Omit<HasNoneOf, "onward" | "book"> & { back: () => unknown }) => Promise<Step[] | null>;
  Swept: FunctionComponent<{ item: ItemRecord }>;
  /** What is told beside a denial of whose light it is said that it was not used. */
  against: (plan: Plan, item: ItemRecord, light: string) => ComponentChildren;
} | null>(null);
