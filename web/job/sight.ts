/** What can be seen in which light: a zone that only a light or a trial shows was not seen without one of them. */

import { neverHadIt } from "./progress.ts";
import { isClearedAlone } from "./there.ts";
import type { Plan, RecordCopy, Zone } from "./types.ts";
import { fieldValue, listed, zoneSaid } from "./values.ts";

/**
 * Whether a zone can have been seen in a light, with what was tried or stated, or since nothing is over it. Most zones
 * show in any light.
 */
export function isInSight(
  record: RecordCopy,
  { lights = [], tests = [], under = [], alone = false }: Zone,
  light: string,
) {
  const isAnywhere = !(alone || lights.length || tests.length || under.length);
  const isBare = under.length > 0 && under.every((zone) => neverHadIt(zoneSaid(record, zone)));
  return isAnywhere || isBare || lights.includes(light) || tests.some((test) => wasMade(record, test));
}

/** Whether a test was made, or what the plan has as a statement stands. */
function wasMade(record: RecordCopy, test: string) {
  const result = fieldValue(record, `tests/${test}`)?.result ?? "not-done";
  const stated = fieldValue(record, `statements/${test}`);
  return result !== "not-done" || Boolean(stated && !stated.withdrawn);
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

/** Whether a zone of which trials alone tell was called clear, and none of them was made. */
export function isUntried(record: RecordCopy, zone: Zone, key: string) {
  const isTicked = fieldValue(record, `zones/${key}`)?.state === "clear";
  return isTicked && !zone.lights?.length && Boolean(zone.tests?.length) && !isInSight(record, zone, "");
}

/** Whether what a trial looks for was seen in a light that shows it. */
export function isSeenUntried(record: RecordCopy, { zone, lights = [], tests = [] }: Zone, test: string) {
  const { state, light } = fieldValue(record, `zones/${zone}`) ?? {};
  return tests.includes(test) && state === "clear" && lights.includes(light ?? "");
}

/**
 * Whether a zone was swept with others as clear that only a trial shows of which somebody said that it was not made,
 * such as the movement behind a back that stayed shut: that is a word of its own, and the sweep is none. What was
 * looked for there, or cleared by itself, somebody saw.
 */
export function isSweptUnshown({ tests }: Plan, record: RecordCopy, key: string) {
  const [zone = ""] = key.split("/");
  const isPutOff = tests.some(
    ({ test, shows = [] }) =>
      shows.includes(zone) && fieldValue(record, `tests/${test}`)?.result === "not-done",
  );
  const isShown = tests.some(({ test, shows = [] }) => shows.includes(zone) && wasMade(record, test));
  const isLookedFor = listed(record, "denials/").some(
    ({ value }) => !value.withdrawn && value.zone.split("/")[0] === zone,
  );
  const isTicked = fieldValue(record, `zones/${key}`)?.state === "clear" && !isClearedAlone(record, key);
  return isPutOff && !isShown && isTicked && !isLookedFor;
}
