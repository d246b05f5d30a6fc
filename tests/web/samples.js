/**
 * Many cases of one kind: a part of them in each run, or all of them. The same rule as in `tests/samples.py`, which
 * says more: one of every `of` of each kind, at least one, beginning at another one for each seed. A file that is run
 * by itself, with no seed, leaves nothing out.
 */
const { INTAKE_SEED: seed, INTAKE_WHOLE: whole } = process.env;

export const isWhole = !["", "0"].includes(whole ?? "") || seed === undefined;

export function sampled(cases, of, kind = () => "") {
  if (isWhole) return [...cases];
  const kinds = Map.groupBy(cases.keys(), (number) => kind(cases[number]));
  const taken = new Set(
    [...kinds.values()].flatMap((numbers, at) => {
      const every = Math.min(of, numbers.length);
      return numbers.filter((_, place) => (place + (every - ((Number(seed) + at) % every))) % every === 0);
    }),
  );
  return cases.filter((_, number) => taken.has(number));
}
