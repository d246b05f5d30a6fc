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

/** When whatever shares it may ask again: each request of one takes its time from all. */
export type Turn = { free: number };

export const aTurn = (): Turn => ({ free: Number.NEGATIVE_INFINITY });

/** Where nobody answers it is tried again ever later, and in the end this often. */
const LONGEST_MS = 16_000;

/**
 * A function that asks for some keys: at once if nothing was asked lately, else together with whatever is wanted until
 * then. One request is under way at a time. `ask` does one request for some of the keys that are wanted, and gives
 * those that are still wanted; it never throws. If that is all of them, nobody answered: they are asked for again, ever
 * later, or as more is wanted. `rest`: so many times as long as an answer took nobody asks again, since what is long to
 * make keeps the office from others. `turn`: shared with others that ask, who ask for no more together; `requests` are
 * those of one call.
 */
export function gathering<Key>(
  ask: (wanted: ReadonlySet<Key>) => Promise<Iterable<Key>>,
  clock: Clock = DEVICE_CLOCK,
  rest = 0,
  { turn = aTurn(), requests = 1 }: { turn?: Turn | undefined; requests?: number | undefined } = {},
): (keys: Iterable<Key>) => void {
  const wanted = new Set<Key>();
  let last = Number.NEGATIVE_INFINITY;
  let planned = Number.POSITIVE_INFINITY; // when it is asked next
  let isAsking = false;
  let failures = 0;
  let between = BETWEEN_MS;
  const plan = (ms: number) => {
    const due = Math.max(clock.now(), last + ms, turn.free);
    if (isAsking || !wanted.size || due >= planned) return;
    planned = due;
    clock.after(due - clock.now(), () => planned === due && run());
  };
  const run = async () => {
    planned = Number.POSITIVE_INFINITY;
    if (clock.now() < turn.free) return plan(between); // another one had its turn meanwhile
    const now = new Set(wanted);
    wanted.clear();
    last = clock.now();
    turn.free = last + requests * BETWEEN_MS;
    isAsking = true;
    const left = new Set(await ask(now));
    isAsking = false;
    failures = [...now].every((key) => left.has(key)) ? failures + 1 : 0;
    const took = failures ? 0 : clock.now() - last;
    between = Math.max(BETWEEN_MS, Math.min(took + took * rest, LONGEST_MS));
    const more = wanted.size;
    for (const key of left) wanted.add(key);
    plan(more || !failures ? between : Math.min(BETWEEN_MS * 2 ** failures, LONGEST_MS));
  };
  return (keys) => {
    const more = [...keys];
    for (const key of more) wanted.add(key);
    if (more.length) plan(between);
  };
}
