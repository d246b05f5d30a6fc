import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";

/** That it was described although something was open, and why. */
export function WasFinished({ item }: { item: ItemRecord }) {
  const entry = fieldValue(item, "entry");
  if (entry?.state !== "described" || !entry.reason) return null;
  return <p class="hint">Described with something open: {entry.reason}</p>;
}
