/** A thing that was not in its container as that was opened: nobody knows where it is until somebody has it in hand. */

import { oneThing } from "./one_thing.ts";
import type { ItemRecord } from "./types.ts";
import { saidOf } from "./values.ts";
import { isLater } from "./with_owner.ts";

/** Once it is moved, or scanned into something, after that was said, it has come. */
export function isNotCome(item: ItemRecord): boolean {
  const missed = saidOf(item, "check-in").filter(({ value }) => value.state === "not-here");
  const moved = Object.entries(oneThing(item).fields).flatMap(([name, set]) =>
    /^(whereabouts|inside)(\/|$)/.test(name) && set ? [set] : [],
  );
  return missed.some((said) => !moved.some((set) => isLater(set, said)));
}
