/** What is known so far, beside the walk: it comes with a pack, and stands there once that is loaded. */
import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";

/** An item, its plan, and the book of plans with the words of its day. */
export type KnownOf = { item: ItemRecord; plan: Plan; book: PlanBook };

/** Null until the pack is loaded: a moment after the first screen, with no network too. */
export const knownSoFar = signal<FunctionComponent<KnownOf> | null>(null);
