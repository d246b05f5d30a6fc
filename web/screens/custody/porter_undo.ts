/** How what was scanned last is taken out again. */

import { pieceMoved } from "../../job/contents.ts";
import { thingWith } from "../../job/custody.ts";
import type { Place } from "../../job/fields.ts";
import { keep, takeBack } from "../../local/outbox.ts";
import { NotCounted } from "./porter_not_counted.ts";
import { moved, type Scan, type Scanned } from "./porter_scan.ts";

/**
 * Take out what was scanned last: as if it had not been, or, if it may have been sent, by putting it back where it was,
 * which is on record as well. Throws NotCounted for a container's number that was sent, since numbers are not given
 * back.
 */
export async function takeOut({ tag, done }: Scanned, { items, containers, aim, me }: Scan) {
  if (!done || (await takeBack(done.operation_id))) return;
  const thing = thingWith(tag, items, containers);
  if (aim.work === "open" || !thing)
    throw new NotCounted("The office may have it already: strike its number through under Numbers.");
  const piece = pieceMoved(thing, tag) ? tag : null;
  if (aim.work === "inside") {
    await keep("put_inside", { thing_id: thing.record_id, container_id: done.before, tag: piece });
    return;
  }
  await keep("record_move", {
    ...moved(thing, piece),
    from_place: aim.to,
    to_place: done.before as Place,
    at: "",
    given_by: me,
    taken_by: aim.given,
  });
  if (done.within)
    await keep("put_inside", { thing_id: thing.record_id, container_id: done.within, tag: piece });
}
