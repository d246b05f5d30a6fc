/** A thing that was not in its container as that was opened: nobody knows where it is until somebody has it in hand. */

import { type Check, checksOf } from "./compared.ts";
import { oneThing } from "./one_thing.ts";
import type { ItemRecord } from "./types.ts";
import { isLater } from "./with_owner.ts";

/** Once it is moved, or scanned into something, after that was said, it has come. */
export function isNotCome(item: ItemRecord): boolean {
  const missed = checksOf(item).filter(({ value }) => value.state === "not-here");
  const moved = Object.entries(oneThing(item).fields).flatMap(([name, set]) => {
    const [family = "", of = ""] = name.split("/");
    return /^(whereabouts|inside)$/.test(family) && set ? { of, set } : [];
  });
  // Another piece that comes says nothing of the one that was not there.
  const hasCome = ({ tag, set: said }: Check) =>
    moved.some(({ of, set }) => (!tag || !of || of === tag) && isLater(set, said));
  return missed.some((check) => !hasCome(check));
}
