/**
 * What is to be asked, gathered so that a burst of news costs few requests. No clock of its own: a test counts with a
 * clock that it turns.
 */

export type Clock = {
  now: () => number;
  /** Do some work after so many milliseconds. */
  after: (ms: number, work: () => void) => void;
};

export const DEVICE_CLOCK: Clock = {
  now: () => performance.now(),
  after: (ms, work) => setTimeout(work, ms),
};

/** At most twice a second: a hall of fifty phones commits more often, and nobody reads faster. */
export const BETWEEN_MS = 500;

/**
 * A function that asks for some keys: at once if nothing was asked lately, else together with whatever is wanted until
 * then. One request is under way at a time. `ask` does one request for some of the keys that are wanted, and gives
 * those that are still wanted; it never throws.
 */
export function gathering<Key>(
  ask: (wanted: ReadonlySet<Key>) => Promise<Iterable<Key>>,
  clock: Clock = DEVICE_CLOCK,
): (keys: Iterable<Key>) => void {
  let wanted = new Set<Key>();
  let last = Number.NEGATIVE_INFINITY;
  let isPlanned = false;
  const plan = () => {
    if (isPlanned || !wanted.size) return;
    isPlanned = true;
    clock.after(Math.max(0, last + BETWEEN_MS - clock.now()), run);
  };
  const run = async () => {
    const now = wanted;
    wanted = new Set();
    last = clock.now();
    for (const key of await ask(now)) wanted.add(key);
    isPlanned = false;
    plan();
  };
  return (keys) => {
    for (const key of keys) wanted.add(key);
    plan();
  };
}
