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

/**
 * Whether a zone that shows in some light alone was called clear, and is said not to have been looked for: who says
 * that of it by name means it, and nobody is told that it is clear.
 */
export function isUnseenAfterAll(record: RecordCopy, zone: Zone, key: string) {
  const { lights = [], tests = [] } = zone;
  return (
    lights.length > 0 &&
    fieldValue(record, `zones/${key}`)?.state === "clear" &&
    tests.some((test) => fieldValue(record, `tests/${test}`)) &&
    !tests.some((test) => wasMade(record, test))
  );
}

/** Whether what a trial looks for was seen in the light that shows it, and nobody says that it was not looked for. */
export function isSeenUntried(record: RecordCopy, { zone, lights = [], tests = [] }: Zone, test: string) {
  const { state, light } = fieldValue(record, `zones/${zone}`) ?? {};
  const isSaid = fieldValue(record, `tests/${test}`);
  return !isSaid && tests.includes(test) && state === "clear" && lights.includes(light ?? "");
}
