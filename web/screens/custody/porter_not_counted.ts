/** What a scan cannot do, and says instead. */

import { thingName } from "../../job/custody.ts";
import type { ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import type { Aim } from "./porter_aim.tsx";

/** What was scanned does not go where it was to go; the message says what it is instead. */
export class NotCounted extends Error {
  /** The container that two people open before it goes there; "" if that is not why. */
  shut = "";
  /** What it may be instead, to be said by whoever holds it. */
  which: readonly Aim["kind_of"][] | undefined;
}

/** Nothing goes through a seal, out or in, before two people have said on the container's page that they opened it. */
export function checkSeal(shut: ThingRecord | undefined, wayOf: (name: string) => string) {
  if (!shut) return;
  const seal = fieldValue(shut, "seal")?.seal;
  const words = `${wayOf(thingName(shut))}, which is under the seal ${seal}. Two people open that first`;
  throw Object.assign(new NotCounted(words), { shut: shut.record_id });
}
