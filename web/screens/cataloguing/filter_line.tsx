/** One way to narrow the list, with how many there would be. */

import { Nick } from "../../parts/nick.tsx";

type LineOf = {
  words: string;
  severity?: number;
  count: number | undefined;
  isChosen: boolean;
  choose: () => unknown;
};

const COUNT_LIMIT = 1000; // the office counts no further

export function Line({ words, severity, count, isChosen, choose }: LineOf) {
  return (
    <button type="button" class="filter-line key" aria-pressed={isChosen} onClick={choose}>
      {severity !== undefined && <Nick severity={severity} />}
      <span>{words}</span>
      <span class="count-of">
        {count === undefined ? "" : count > COUNT_LIMIT ? `${COUNT_LIMIT}+` : count}
      </span>
    </button>
  );
}
