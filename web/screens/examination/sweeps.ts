/** What is said of several zones at once comes with a pack, and stands there once it is loaded. */
import { signal } from "@preact/signals-core";
import type * as Sweeps from "./zones_sweep.tsx";

/** Null until the pack is loaded: a moment after the first screen, with no network too. */
export const sweeps = signal<Pick<typeof Sweeps, "HasNone" | "NeverHad" | "RestClear"> | null>(null);
