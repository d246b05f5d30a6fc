/** The words beside the walk: they come with a pack, and stand there once it is loaded. */
import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";

/** An item, its plan, and the book of plans with the words of its day. */
export type KnownOf = { item: ItemRecord; plan: Plan; book: PlanBook };

/** Null until the pack is loaded: a moment after the first screen, with no network too. */
export const wordsSoFar = signal<FunctionComponent<KnownOf> | null>(null);
