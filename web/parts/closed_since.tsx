/** What is changed on an item once its day is closed: nothing keeps it from being changed, and the closing names it. */

import { fieldValue } from "../job/values.ts";
import { recordOf } from "../local/memory.ts";
import { useSelected } from "./use.ts";

export function ClosedSince({ item_id }: { item_id: string }) {
  const isClosed = useSelected(() => {
    const item = recordOf("item", item_id);
    return Boolean(item && fieldValue(recordOf("day", item.day_id), "closed"));
  }, [item_id]);
  return isClosed ? (
    <p class="bar" role="status">
      This day is closed: what is changed now, the closing names as changed since.
    </p>
  ) : null;
}
