/** Chance with a seed: the minimal standard generator of Park and Miller (1988). Whole numbers below a limit. */
export function chance(seed) {
  let state = seed;
  return (limit) => {
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
}
