/** The way from zone to zone. */
import type { Step } from "../../job/progress.ts";

export function zoneAddress(item_id: string, key: string) {
  return `#/item/${item_id}/zone/${encodeURIComponent(key)}`;
}

/**
 * What comes after a zone: the next that nobody spoke of, from there on and then from the start; none if all are done.
 */
export function stepAfter(steps: Step[], key: string): Step | undefined {
  const here = steps.findIndex((step) => step.key === key);
  return [...steps.slice(here + 1), ...steps.slice(0, here)].find((step) => !step.state);
}

/** The same screen goes on under another address, so that an app that is killed opens again where it was. */
export function goOnAt(address: string) {
  history.replaceState(null, "", address);
  localStorage.setItem("place", address);
}
