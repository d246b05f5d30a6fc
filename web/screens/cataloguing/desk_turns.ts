/** Which of the two requests that a desk's news may ask for goes first. */

import type { Key, Shown } from "./desk_news.ts";

/**
 * Asks one of the two that there may be, the settlements or what is listed, and gives those keys that are still to be
 * asked for; what had to wait goes first the next time. `listedOf` gives what it could not ask for.
 */
export function inTurns(
  now: { current: Shown },
  settlements: () => Promise<void>,
  listedOf: (keys: ReadonlySet<Key>) => Promise<Key[]>,
) {
  let isSettlementsTurn = false;
  return async (keys: ReadonlySet<Key>): Promise<Key[]> => {
    const settled = [...keys].filter((key) => key.startsWith("settlements "));
    const listed = [...keys].filter((key) => !key.startsWith("settlements "));
    const isAhead = settled.some((key) => key !== `settlements ${now.current.settlements.cursor}`);
    const isTheirTurn = isAhead && (isSettlementsTurn || !listed.length);
    isSettlementsTurn = isAhead && !isTheirTurn;
    if (isTheirTurn) {
      await settlements();
      return listed;
    }
    const left = listed.length ? await listedOf(new Set(listed)) : [];
    return isAhead ? [...left, ...settled] : left;
  };
}
