/**
 * What arrives is held against the loads that left. That comes with the pack of those who carry things away, and stands
 * there once it is loaded.
 */
import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";
import type { Scanned } from "./porter_scan.ts";

/**
 * The day of what is scanned, "" while that may be any, and the load that it left with; "" if nobody said, NO_LOAD if
 * none of those that left.
 */
export type LoadOf = { day_id: string; of_load: string };

export type Arrivals = {
  LoadChoice: FunctionComponent<LoadOf & { choose: (of_load: string) => unknown }>;
  /**
   * Of a day the newest load that left with any of these numbers, else the only one that is on its way; "" if there is
   * none.
   */
  likely: (day_id: string, tags: readonly string[]) => string;
  /** On which day a load left; "" if that is not here. */
  dayOf: (load_id: string) => string;
  /** What of earlier days has not come yet. */
  OfBefore: FunctionComponent;
  Coming: FunctionComponent<LoadOf & { scanned: Scanned[] }>;
  /** What is said of a count at the store; null if nothing is known of that load. */
  arrivalOf: (load: LoadOf) => { agrees: boolean; words: string } | null;
};

/** Null until the pack is loaded: a moment after the first screen, with no network too; at a door or a table never. */
export const arrivals = signal<Arrivals | null>(null);
