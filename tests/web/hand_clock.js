/** A clock that a test turns by hand, for whatever asks at most so often. */
export function handClock() {
  let now = 0;
  const due = [];
  return {
    now: () => now,
    after: (ms, work) => due.push([now + ms, work]),
    /** Turn it, and let what was due happen in its order. */
    async turn(ms) {
      const until = now + ms;
      for (;;) {
        due.sort(([one], [other]) => one - other);
        if (!due.length || due[0][0] > until) break;
        const [at, work] = due.shift();
        now = Math.max(now, at);
        work();
        await new Promise(setImmediate);
      }
      now = until;
    },
  };
}
