/**
 * What is changed on an item or a visit once its day is closed: nothing keeps it from being changed. The closing names
 * only what differs by it, such as a receipt that says otherwise.
 */

import { fieldValue } from "../job/values.ts";
import { recordOf } from "../local/memory.ts";
import { useSelected } from "./use.ts";

export function ClosedSince({ kind, id }: { kind: "item" | "visit"; id: string }) {
  const isClosed = useSelected(() => {
    const record = recordOf(kind, id);
    return Boolean(record && fieldValue(recordOf("day", record.day_id), "closed"));
  }, [kind, id]);
  return isClosed ? <DayClosed /> : null;
}

export function DayClosed() {
  return (
    // To whoever works here: the owner's paper says what they left, as it was signed.
    <p class="bar on-screen" role="status">
      This day is closed: what is changed now is kept, with its time, and was not signed for at the closing.
    </p>
  );
}
