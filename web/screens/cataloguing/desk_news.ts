/** What is on a desk's screen, and what of it is to be asked for again as news come. */

import { same } from "../../job/between.ts";
import { ASKED_NOTHING, type Asked, type News, type QueuePage } from "../../job/desk.ts";
import { altersCounts, type Indexed, isRowAnother, mayFit, mayHaveCome } from "../../job/narrowed.ts";
import { isOnPages } from "../../job/rows.ts";
import type { RecordCopy } from "../../job/types.ts";
import type { Opened } from "../../local/opened.ts";

/**
 * What is to be asked: the list from its start, the entry that is open, a row by its item, the counts beside the list,
 * which come with each of these, or the settlements, with the place in the feed at which that was wanted.
 */
export type Key = "list" | "entry" | `item ${string}` | "counts" | `settlements ${number}`;

/** As a desk opens: whatever was told before, there may be more. */
export const SETTLEMENTS_AT_START: Key = "settlements -1";

/** The records on which a value said at this desk gave way, and up to where in the feed; null: to be asked anew. */
export type Settlements = { cursor: number | null; records: RecordCopy[] };

/** What is on the screen; `entry` is the open one's, and null until it is read; `seen` is null until it is known. */
export type Shown = {
  asked: Asked;
  list: QueuePage | null;
  /** What the office makes of the words of `asked`; unknown while the list is still what was asked for before. */
  searched?: Pick<QueuePage, "words" | "called"> | undefined;
  entry: Opened | null;
  item_id: string;
  settlements: Settlements;
  seen: ReadonlySet<string> | null;
};

export function isOf({ record_ids }: Opened, item_id: string) {
  return record_ids[0] === item_id;
}

/**
 * What of the news is shown here: a row that is another now, a thing that is new at the end of the list, if that is
 * shown, and one that is listed again where it stood; of a list that is narrowed a thing that changed may have come to
 * fit it, as the news say. What nobody handles is told whatever the list shows, as is whatever is counted beside it.
 */
export function touchedBy(news: News, shown: Shown): Key[] {
  return [...touchedInList(news, shown), ...touchedSettlements(news, shown)];
}

/** Only what nobody at this desk has seen is shown, and whoever could not be asked is asked with the next news. */
function touchedSettlements({ cursor, gave_way }: News, { settlements, seen }: Shown): Key[] {
  const known = settlements.cursor === null ? null : gave_way;
  return known && !known.some((id) => !seen?.has(id)) ? [] : [`settlements ${cursor}`];
}

/** That of it which is asked of the list and the open entry. */
export function touchedInList({ cursor, changed, alone }: News, shown: Shown): Key[] {
  const { asked, list, searched, entry, item_id } = shown;
  if (!list) return [];
  if (!changed) {
    const isEntryOld = item_id !== "" && entry?.cursor !== cursor;
    return [
      ...(list.cursor === cursor ? [] : (["list"] as const)),
      ...(isEntryOld ? (["entry"] as const) : []),
    ];
  }
  const rows = new Set(list.entries.map((row) => row.item_id));
  const listed = changed.flatMap(([id, , place, , marks, found]): Key[] => {
    if (rows.has(id)) return isRowAnother(asked, { marks, found, ...searched }) ? [`item ${id}`] : [];
    return place === null ? [] : touchedUnseen(id, place, { marks, found }, { ...shown, list });
  });
  const items = listed.filter((key) => key !== "counts"); // which come with them
  const isBeside = listed.length > 0 || isToldOtherwise(alone, list);
  const beside = items.length || !isBeside ? items : (["counts"] as const);
  return isEntryTouched(changed, shown) ? ["entry", ...beside] : [...beside];
}

/** Of a thing that is on none of the pages: its row, if it may have come there, or the counts, if it alters them. */
function touchedUnseen(
  id: string,
  entry_seq: number,
  said: Indexed,
  { asked, list, searched }: Shown & { list: QueuePage },
): Key[] {
  const index = { ...said, ...searched };
  const isHere = isOnPages({ entry_seq }, list);
  const isWhole = same(asked, ASKED_NOTHING);
  if (isHere && (isWhole ? mayFit(asked, index.marks) : mayHaveCome(asked, index))) return [`item ${id}`];
  return altersCounts(asked, index, isHere) ? ["counts"] : [];
}

/** Whether the open entry says something of what changed: of a record that it is read from, or a thing beside it. */
function isEntryTouched(changed: NonNullable<News["changed"]>, { entry }: Shown) {
  const ids = new Set(entry?.record_ids);
  return changed.some(([id, , , , , found]) => ids.has(id) || (found?.beside && ids.has(found.beside)));
}

/** Whether news tell otherwise of what nobody handles than the list did; an office of before tells nothing. */
function isToldOtherwise(alone: News["alone"], list: QueuePage) {
  const told = list.alone.map(({ item_id, short_description, keep_away }) => ({
    item_id,
    short_description,
    keep_away,
  }));
  return Boolean(alone) && !same(alone, told);
}
