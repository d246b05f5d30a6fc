/** Work that can wait until nobody waits for anything else. */

/** At the latest after so long, however much there is to do. */
const LATEST_MS = 1000;
/** Where the browser does not tell when it is idle. */
const PAUSE_MS = 100;

/** Do something when the browser has nothing to draw and nobody types, soon in any case. */
export function whenIdle(work: () => void) {
  if ("requestIdleCallback" in window) requestIdleCallback(work, { timeout: LATEST_MS });
  else setTimeout(work, PAUSE_MS);
}
