/** The way from zone to zone. */
import type { Step } from "../../job/progress.ts";

export function zoneAddress(item_id: string, key: string) {
  return `#/item/${item_id}/zone/${encodeURIComponent(key)}`;
}

/** Where to go after a zone is done: the next that nobody spoke of, from here on and then from the start; else the list. */
export function afterZone(item_id: string, steps: Step[], key: string) {
  const here = steps.findIndex((step) => step.key === key);
  const next = [...steps.slice(here + 1), ...steps.slice(0, here)].find((step) => !step.state);
  return next ? zoneAddress(item_id, next.key) : `#/item/${item_id}/zones`;
}
