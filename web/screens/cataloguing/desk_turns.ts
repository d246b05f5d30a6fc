/** What of a desk's list is asked for later: by turns with the settlements, or once an entry is open no more. */

import type { QueuePage } from "../../job/desk.ts";
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

/** Rows that are in the list for no other reason than that their entry is open. */
export function stayingOpen(now: { current: Shown }, again: (keys: readonly Key[]) => void) {
  const ids = new Set<string>();
  return {
    /** These were asked for, and came, or are in the list no more. */
    note(items: readonly string[], { entries }: QueuePage) {
      const { item_id } = now.current;
      if (!items.includes(item_id)) return;
      if (entries.some((row) => row.item_id === item_id)) ids.delete(item_id);
      else ids.add(item_id);
    },
    forget: () => ids.clear(),
    /** Another entry is open, or none: those that stayed for theirs are asked for, and others come in their place. */
    leave() {
      const left = [...ids].filter((id) => id !== now.current.item_id);
      for (const id of left) ids.delete(id);
      again(left.map((id): Key => `item ${id}`));
    },
  };
}
