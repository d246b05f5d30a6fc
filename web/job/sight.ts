/** What can be seen in which light: a zone that only a light or a trial shows was not seen without one of them. */

import type { RecordCopy, Zone } from "./types.ts";
import { fieldValue } from "./values.ts";

/** Whether a zone can have been seen in a light, or with what was tried. Most zones show in any. */
export function isInSight(record: RecordCopy, { lights = [], tests = [] }: Zone, light: string) {
  return (
    !(lights.length || tests.length) || lights.includes(light) || tests.some((test) => wasMade(record, test))
  );
}

function wasMade(record: RecordCopy, test: string) {
  const result = fieldValue(record, `tests/${test}`)?.result ?? "not-done";
  return result !== "not-done";
}

/** Whether a zone shows in some light alone, was called clear in another, and is said not to have been looked for. */
export function isUnseenAfterAll(record: RecordCopy, zone: Zone, key: string) {
  const { lights = [], tests = [] } = zone;
  const said = fieldValue(record, `zones/${key}`);
  return (
    lights.length > 0 &&
    said?.state === "clear" &&
    !isInSight(record, zone, said.light ?? "") &&
    tests.some((test) => fieldValue(record, `tests/${test}`))
  );
}

/** Whether what a trial looks for was seen in a light that shows it. */
export function isSeenUntried(record: RecordCopy, { zone, lights = [], tests = [] }: Zone, test: string) {
  const { state, light } = fieldValue(record, `zones/${zone}`) ?? {};
  return tests.includes(test) && state === "clear" && lights.includes(light ?? "");
}
