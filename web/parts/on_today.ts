/** What only managers see on the Today screen: it comes with their pack, and stands there once the pack is loaded. */
import { signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";

/**
 * Null until the pack is loaded; on a manager's device that is a moment after the first screen, with no network too.
 */
export const onToday = signal<FunctionComponent | null>(null);
