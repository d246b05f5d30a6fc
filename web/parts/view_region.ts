/** Which zone of a thing's outline a view is to show, by the words that both are called by. */

import type { Outline, Shape } from "../job/types.ts";

/** Words of a view that say from where it is taken, not what it shows. */
const FROM_WHERE = new Set(["front", "back", "side", "top", "end", "whole", "inside", "reverse", "outline"]);

/** The drawing on which the view's zone lies, and its region; undefined where the view names no zone that is drawn. */
export function regionShown(
  drawings: readonly Outline[],
  words: string,
): { on: Outline; zone: Shape } | undefined {
  const wanted = new Set(wordsOf(words));
  const found = drawings.flatMap((on) =>
    on.shapes.flatMap((zone) => {
      const named = wordsOf((zone.zone ?? "").split("/")[0] ?? "");
      const shared = named.filter((word) => wanted.has(word));
      const isMeant = shared.length === named.length || !FROM_WHERE.has(shared[0] ?? "front");
      const isOnlyPlace = shared.every((word) => FROM_WHERE.has(word)) && !shared.includes("inside");
      return shared.length && isMeant && !isOnlyPlace ? [{ on, zone, count: shared.length }] : [];
    }),
  );
  return found.sort((a, b) => b.count - a.count)[0];
}

/** The words of a name, each in the singular, so that "joins of the handles" and "handles" meet. */
function wordsOf(name: string): string[] {
  return (name.toLowerCase().match(/[a-z]+/g) ?? []).map((word) => word.replace(/(?<=[a-z]{2})s$/, ""));
}
