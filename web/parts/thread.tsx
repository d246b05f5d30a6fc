/** Where things are on their way, as knots on a thread, each with its figure. The filled one is here. */

export type Knot = { words: string; count: number | string; isHere?: boolean };

export function Thread({ knots }: { knots: readonly Knot[] }) {
  return (
    <dl class="figures thread">
      {knots.map(({ words, count, isHere }) => (
        <div key={words} class={isHere ? "here-knot" : ""}>
          <dt>{words}</dt>
          <dd>{count}</dd>
        </div>
      ))}
    </dl>
  );
}
