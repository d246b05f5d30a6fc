/** What a table put off to the store since too many people waited: somebody has to look at it there. */

import type { RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

/** Source: `words.yaml`, "Queue too long: to be done at the store". */
const TO_THE_STORE = "no-time";

/** The zones that are still to be looked at for that. */
export function putOff(item: RecordCopy): string[] {
  return listed(item, "zones/").flatMap(({ id, value }) =>
    value.state === "not-examined" && value.reason === TO_THE_STORE ? [id] : [],
  );
}
