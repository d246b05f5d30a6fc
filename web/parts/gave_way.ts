/** What tells of what gave way: it comes with the words' pack, which every device keeps. */

import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";

/** Null until the pack is loaded, a moment after the first screen. */
export const gaveWayHere = signal<FunctionComponent | null>(null);
