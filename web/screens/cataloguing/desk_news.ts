/** What is on a desk's screen, and what of it is to be asked for again as news come. */

import { same } from "../../job/between.ts";
import { ASKED_NOTHING, type Asked, type News, type QueuePage } from "../../job/desk.ts";
import { type Indexed, isLeftAlone, mayHaveCome } from "../../job/narrowed.ts";
import { isOnPages } from "../../job/rows.ts";
import type { RecordCopy } from "../../job/types.ts";
import type { Opened } from "../../local/opened.ts";

/**
 * What is to be asked: the list from its start, the entry that is open, a row by its item, or the settlements, with
 * the place in the feed at which that was wanted.
 */
export type Key = "list" | "entry" | `item ${string}` | `settlements ${number}`;

/** As a desk opens: whatever was told before, there may be more. */
export const SETTLEMENTS_AT_START: Key = "settlements -1";

/** The records on which a value said at this desk gave way, and up to where in the feed; null: to be asked anew. */
export type Settlements = { cursor: number | null; records: RecordCopy[] };

/** What is on the screen; `entry` is the open one's, and null until it is read; `seen` is null until it is known. */
export type Shown = {
  asked: Asked;
  list: QueuePage | null;
  /** The words of `asked` as the office searches them; unknown while the list is still what was asked for before. */
  words?: readonly string[] | undefined;
  entry: Opened | null;
  item_id: string;
  settlements: Settlements;
  seen: ReadonlySet<string> | null;
};

export function isOf({ record_ids }: Opened, item_id: string) {
  return record_ids[0] === item_id;
}

/**
 * What of the news is shown here. A thing that is new belongs to the end of the list, if that is shown; of a list that
 * is narrowed a thing that changed may have come to fit it, as the news say. What nobody handles is told of whatever
 * the list shows.
 */
export function touchedBy(news: News, shown: Shown): Key[] {
  return [...touchedInList(news, shown), ...touchedSettlements(news, shown)];
}

/** Only what nobody at this desk has seen is shown, and whoever could not be asked is asked with the next news. */
function touchedSettlements({ cursor, gave_way }: News, { settlements, seen }: Shown): Key[] {
  const known = settlements.cursor === null ? null : gave_way;
  return known && !known.some((id) => !seen?.has(id)) ? [] : [`settlements ${cursor}`];
}

function touchedInList({ cursor, changed }: News, { asked, list, words, entry, item_id }: Shown): Key[] {
  if (!list) return [];
  if (!changed) {
    const isEntryOld = item_id !== "" && entry?.cursor !== cursor;
    return [
      ...(list.cursor === cursor ? [] : (["list"] as const)),
      ...(isEntryOld ? (["entry"] as const) : []),
    ];
  }
  const rows = new Set(list.entries.map((row) => row.item_id));
  const last = list.entries.at(-1)?.entry_seq ?? 0;
  const isWhole = same(asked, ASKED_NOTHING);
  const mayCome = (entry_seq: number, index: Indexed) =>
    (isWhole ? entry_seq > last : mayHaveCome(asked, index)) && isOnPages({ entry_seq }, list);
  const keepAway = keptAwayFrom(list);
  const keys = changed.flatMap(([id, , place, , marks, found]): Key[] => {
    const alone = keepAway.get(id);
    if (alone) return [`item ${alone}`];
    const isShown = rows.has(id) || isLeftAlone(marks);
    return isShown || (place !== null && mayCome(place, { marks, found, words })) ? [`item ${id}`] : [];
  });
  const ids = new Set(entry?.record_ids);
  return changed.some(([id]) => ids.has(id)) ? ["entry", ...keys] : keys;
}

/** What nobody handles, by its own id and by those of the records that say where it is. */
function keptAwayFrom({ alone }: QueuePage) {
  return new Map(
    alone.flatMap(({ item_id, near = [] }) => [item_id, ...near].map((id) => [id, item_id] as const)),
  );
}
