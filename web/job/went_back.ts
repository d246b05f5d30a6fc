/** What said that a thing went back to its owner, while nothing of that has left the device. */

import { sameThing } from "./cautions.ts";
import type { ItemRecord, Operation } from "./types.ts";

type Waits = Operation & { attempted: boolean };

/**
 * What said so of a thing, on whichever of its records, while none of it was sent and nothing came of it since; else
 * nothing. What it was taken out of is not known any more, so that such a thing is not put back by a press.
 */
export function wentBackUnsent<Of extends Waits>(item: ItemRecord, waiting: readonly Of[]): readonly Of[] {
  const ids = new Set<string | null>(sameThing(item).map(({ record_id }) => record_id));
  const of = waiting.filter(
    (op) =>
      ("item_id" in op && ids.has(op.item_id)) ||
      ("thing_id" in op && ids.has(op.thing_id)) ||
      (op.kind === "sign_receipt" && op.visit_id === item.visit_id),
  );
  const last = of.pop();
  if (last?.kind !== "record_move" || last.to_place !== "returned") return [];
  const made = [last];
  for (let op = of.pop(); op?.kind === "remove_tag" && op.why === "taken-back"; op = of.pop())
    made.unshift(op);
  const isOutOf = waiting.some((op) => op.kind === "put_inside" && ids.has(op.thing_id) && !op.container_id);
  return isOutOf || made.length < 2 || made.some(({ attempted }) => attempted) ? [] : made;
}
