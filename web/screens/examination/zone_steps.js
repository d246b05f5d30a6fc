/** The way from zone to zone. */
import { walk } from "../../job/progress.js";

/** @param {string} item_id @param {string} key */
export function zoneAddress(item_id, key) {
  return `#/item/${item_id}/zone/${encodeURIComponent(key)}`;
}

/**
 * Where to go after a zone: the next one that nobody spoke of, from here on and then from the start; else the list.
 * @param {string} item_id @param {ReturnType<typeof walk>} steps @param {string} key the zone that was just done
 */
export function afterZone(item_id, steps, key) {
  const here = steps.findIndex((step) => step.key === key);
  const next = [...steps.slice(here + 1), ...steps.slice(0, here)].find((step) => !step.state);
  return next ? zoneAddress(item_id, next.key) : `#/item/${item_id}/zones`;
}
