/** Which marks were copied from a zone: one that is clear has nothing wrong with it, and may bear one all the same. */

import type { MarkValue } from "./fields.ts";
import { ANY, isCopyOf } from "./mark_on.ts";
import { keysOf } from "./progress.ts";
import type { ItemRecord, Plan, Zone } from "./types.ts";
import { listed } from "./values.ts";

const LEAST = 3; // letters of a word by which a place is told from another
const SMALL = new Set(["and", "for", "from", "the", "with"]);

/** Each mark on record by the keys of the zones that it stands on; its own place stands in it as the table typed it. */
export function marksByZone(plan: Plan, item: ItemRecord): Map<string, MarkValue[]> {
  const found = new Map<string, MarkValue[]>();
  for (const { value } of listed(item, "marks/")) {
    if (value.withdrawn || !(value.text.trim() || value.completeness)) continue;
    for (const key of zonesUnder(plan, value).flatMap(keysOf))
      found.set(key, [...(found.get(key) ?? []), value]);
  }
  return found;
}

/** Those that the plan names for its place, and that of which it is the mark: of several for any mark the named one. */
function zonesUnder(plan: Plan, mark: MarkValue): Zone[] {
  const named = new Set(plan.marks_of?.[mark.place] ?? []);
  const copies = plan.zones.filter(({ wording }) => isCopyOf(wording ?? [], mark));
  const words = wordsIn(mark.place);
  const near = copies.filter(
    (zone) =>
      !zone.wording?.includes(ANY) ||
      wordsIn(`${zone.zone} ${zone.words}`).some((word) => words.includes(word)),
  );
  const chosen = near.length ? near : copies;
  return plan.zones.filter((zone) => named.has(zone.zone) || chosen.includes(zone));
}

function wordsIn(words: string) {
  return words
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .filter((word) => word.length >= LEAST && !SMALL.has(word));
}
