/** What said that a thing went back to its owner, while nothing of that has left the device. */

import { sameThing } from "./cautions.ts";
import type { ItemRecord, Operation } from "./types.ts";

type Waits = Operation & { attempted: boolean };

/**
 * What said so of a thing, on whichever of its records, while none of it was sent and nothing came of it since; else
 * nothing. That it was taken out of something for it is a part of that: once that is not said, it is in it again.
 */
export function wentBackUnsent<Of extends Waits>(item: ItemRecord, waiting: readonly Of[]): readonly Of[] {
  const ids = new Set<string | null>(sameThing(item).map(({ record_id }) => record_id));
  const of = waiting.filter(
    (op) =>
      ("item_id" in op && ids.has(op.item_id)) ||
      ("thing_id" in op && ids.has(op.thing_id)) ||
      (op.kind === "sign_receipt" && op.visit_id === item.visit_id),
  );
  const made: Of[] = [];
  const takeWhile = (isOfIt: (op: Of) => boolean) => {
    const before = made.length;
    for (let last = of.at(-1); last && isOfIt(last); last = of.at(-1)) {
      made.unshift(last);
      of.pop();
    }
    return made.length - before;
  };
  if (!takeWhile((op) => op.kind === "record_move" && op.to_place === "returned")) return [];
  if (!takeWhile((op) => op.kind === "remove_tag" && op.why === "taken-back")) return [];
  takeWhile((op) => op.kind === "put_inside" && !op.container_id);
  return made.some(({ attempted }) => attempted) ? [] : made;
}
