/**
 * What few devices ever show, and then above or on their first screens: it comes with the words' pack, which every
 * device keeps. Null until that is loaded, a moment after the first screen, with no network too.
 */

import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";

/** What somebody said here and gave way. */
export const overruledHere = signal<FunctionComponent | null>(null);
/** What the office lost and this device cannot send again. */
export const lackingHere = signal<FunctionComponent | null>(null);
