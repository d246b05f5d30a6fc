/** A desk's list after some of its things have changed. */
import { same } from "./between.ts";
import type { QueuePage, QueueRow } from "./desk.ts";

/**
 * The list with what the office says of some items now. Those that it does not name any more are not as the list was
 * asked for, and leave it, and others come from behind the pages in their place; the open one stays until another is
 * opened, so that nothing moves under somebody's hands.
 * The rest of it is as old as it was, and so is its `cursor`.
 */
export function withRows(
  list: QueuePage,
  page: QueuePage,
  items: readonly string[],
  open: string,
): QueuePage {
  const fresh = new Map(page.entries.map((row) => [row.item_id, row]));
  const gone = new Set(items.filter((id) => !fresh.has(id) && id !== open));
  const known = new Set(list.entries.map(({ item_id }) => item_id));
  const here = list.entries
    .filter(({ item_id }) => !gone.has(item_id))
    .map((row) => fresh.get(row.item_id) ?? row);
  const filled = page.filled?.after === list.next ? page.filled : null; // else more was shown meanwhile
  const more = filled?.entries.filter(({ item_id }) => !fresh.has(item_id)) ?? [];
  const come = page.entries.filter((row) => isOnPages(row, filled ?? list));
  const entries = [...here, ...[...come, ...more].filter(({ item_id }) => !known.has(item_id))];
  entries.sort((one, other) => one.entry_seq - other.entry_seq);
  const { count, count_capped, alone } = page;
  const next = filled ? filled.next : list.next;
  return {
    ...list,
    next,
    count,
    count_capped,
    alone,
    counts: page.counts ?? list.counts,
    days: page.days ?? list.days,
    entries,
  };
}

/** Whether a row belongs among those that are shown: what comes after them is read with the next page. */
export function isOnPages({ entry_seq }: Pick<QueueRow, "entry_seq">, { next }: Pick<QueuePage, "next">) {
  return next === null || entry_seq <= next;
}

/**
 * The list with one of its rows as it is now; the same list if nothing of it is new, so that nothing is drawn again.
 */
export function withRow(list: QueuePage, row: QueueRow): QueuePage {
  const before = list.entries.find(({ item_id }) => item_id === row.item_id);
  if (!before || same(before, row)) return list;
  return { ...list, entries: list.entries.map((entry) => (entry === before ? row : entry)) };
}

/**
 * The list with the page that comes after `next`; what stood before is as old as it was, and so is the list's `cursor`.
 * The same list if it goes on from elsewhere: the key was pressed again before the first answer came.
 */
export function withMore(list: QueuePage, page: QueuePage, next: number): QueuePage {
  if (list.next !== next) return list;
  const { cursor, counts, days } = list;
  return { ...list, ...page, cursor, counts, days, entries: [...list.entries, ...page.entries] };
}
