/** What asks for a manager's word once the day is closed: it comes with the words' pack, which every device keeps. */

import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";
import type { DayRecord } from "../job/types.ts";

export type AfterClosingOf = {
  day: DayRecord;
  what: "visit" | "item" | "stage";
  /** Opens it, or says it, in the name of whoever allowed it. */
  open: (allowed_by: string) => Promise<unknown>;
  leave: () => void;
};

/** Null until the pack is loaded, a moment after the first screen. */
export const afterClosing = signal<FunctionComponent<AfterClosingOf> | null>(null);

export function AfterClosing(of: AfterClosingOf) {
  const Asks = afterClosing.value;
  return Asks ? <Asks {...of} /> : <p>Reading …</p>;
}
