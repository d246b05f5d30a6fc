/**
 * What a desk asks the office for: its list, rows of it, the entry that is open, what was said here and gave way, and
 * what of the news touches them.
 */

import type { Asked, EntryPage, News, QueuePage } from "../../job/desk.ts";
import { withMore, withRow, withRows } from "../../job/rows.ts";
import type { RecordCopy } from "../../job/types.ts";
import { errorWords } from "../../job/words.ts";
import type { Opened } from "../../local/opened.ts";
import { openedAs, storeOpened } from "../../local/store_opened.ts";
import { get, mayPass } from "../../sync/office.ts";

const PAGE = 50;
const MOST_AT_ONCE = 200;

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
  entry: Opened | null;
  item_id: string;
  settlements: Settlements;
  seen: ReadonlySet<string> | null;
};

export function isOf({ record_ids }: Opened, item_id: string) {
  return record_ids[0] === item_id;
}

/** What of the news is shown here; a thing that is new belongs to the end of the list, if that is shown. */
export function touchedBy(news: News, shown: Shown): Key[] {
  return [...touchedInList(news, shown), ...touchedSettlements(news, shown)];
}

/** Only what nobody at this desk has seen is shown, and whoever could not be asked is asked with the next news. */
function touchedSettlements({ cursor, gave_way }: News, { settlements, seen }: Shown): Key[] {
  const known = settlements.cursor === null ? null : gave_way;
  return known && !known.some((id) => !seen?.has(id)) ? [] : [`settlements ${cursor}`];
}

function touchedInList({ cursor, changed }: News, { list, entry, item_id }: Shown): Key[] {
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
  const keys = changed
    .filter(([id, , entry_seq]) => rows.has(id) || (entry_seq !== null && !list.next && entry_seq > last))
    .map(([id]): Key => `item ${id}`);
  const ids = new Set(entry?.record_ids);
  return changed.some(([id]) => ids.has(id)) ? ["entry", ...keys] : keys;
}

type Setter<Value> = (value: Value | ((before: Value) => Value)) => void;

type Setters = {
  setList: Setter<QueuePage | null>;
  setListed: (asked: Asked) => void;
  setEntry: Setter<Opened | null>;
  setSettlements: Setter<Settlements>;
  setProblem: (words: string) => void;
};

/**
 * Asking, one request for whatever is to be asked. Whatever fails is told, and what is shown stays. `oneOf` makes one,
 * and gives those keys that are still to be asked for: all, if nobody answered. Others say if they were, be it by a no.
 */
export function readersOf(
  now: { current: Shown },
  { setList, setListed, setEntry, setSettlements, setProblem }: Setters,
) {
  const attempted = async (work: () => Promise<void>) => {
    try {
      await work();
      setProblem("");
      return true;
    } catch (error) {
      setProblem(problemWords(error));
      return !mayPass(error);
    }
  };
  const page = (change: Record<string, string>) =>
    get<QueuePage>(`/queue?${new URLSearchParams({ ...now.current.asked, ...change })}`);
  const fromStart = () => {
    const limit = Math.min(MOST_AT_ONCE, Math.max(PAGE, now.current.list?.entries.length ?? 0));
    return { counts: "1", limit: String(limit) };
  };
  const takeList = (asked: Asked, list: QueuePage | null) => {
    if (!list || now.current.asked !== asked) return;
    setList(list);
    setListed(asked);
  };
  const takeRows = (asked: Asked, fresh: QueuePage | null, items: readonly string[]) => {
    if (!fresh || now.current.asked !== asked) return; // the list is read anew, as it is asked now
    setList((list) => list && withRows(list, fresh, items, now.current.item_id));
  };
  const list = () =>
    attempted(async () => {
      const { asked } = now.current;
      takeList(asked, await page(fromStart()));
    });
  const more = () =>
    attempted(async () => {
      const { asked, list } = now.current;
      if (!list?.next) return;
      const next = await page({ after: String(list.next), limit: String(PAGE) });
      if (now.current.asked !== asked) return;
      setList((before) => before && withMore(before, next));
    });
  const rows = (items: string[]) =>
    attempted(async () => {
      const { asked } = now.current;
      takeRows(asked, await page({ items: items.join(","), counts: "1" }), items);
    });
  /** The open entry, and what the list says beside it: nothing, these rows of it, or all of it. */
  const entry = async (beside?: string[] | "list") => {
    let came = false; // what could not be kept here came all the same
    const done = await attempted(async () => {
      const { item_id, asked } = now.current;
      if (!item_id) return;
      const listed = beside === "list" ? fromStart() : beside && { counts: "1", items: beside.join(",") };
      const query = listed ? `?${new URLSearchParams({ ...asked, ...listed })}` : "";
      const page = await get<EntryPage>(`/entries/${item_id}${query}`);
      came = true;
      const opened = openedAs(page, new Date().toISOString());
      const kept = storeOpened(page, opened);
      if (now.current.item_id === item_id) setEntry(opened);
      if (beside === "list") takeList(asked, page.list);
      else if (beside) takeRows(asked, page.list, beside);
      const { row } = page;
      if (row) setList((list) => list && withRow(list, row)); // the open one stays in the list, whatever is asked
      await kept; // all is drawn meanwhile; that it could not be kept is told
    });
    return done || came;
  };
  /** Those that were told of stay if the office is not reached; it is no problem of what is on the screen. */
  const settlements = async () => {
    try {
      setSettlements(await get<Settlements>("/settlements"));
    } catch {
      setSettlements((before) => ({ ...before, cursor: null }));
    }
  };
  let isSettlementsTurn = false;
  /** One request of the two that there may be; what had to wait goes first the next time. */
  const oneOf = async (keys: ReadonlySet<Key>): Promise<Key[]> => {
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
  const listedOf = async (keys: ReadonlySet<Key>): Promise<Key[]> => {
    const isOpen = keys.has("entry") && now.current.item_id !== "";
    if (keys.has("list")) {
      if (!isOpen || now.current.entry) {
        const done = await (isOpen ? entry("list") : list());
        return done ? [] : [...keys];
      }
      const done = await list(); // by itself, since the office may have no such entry
      return done ? ["entry"] : [...keys];
    }
    const items = [...keys].flatMap((key) => (key === "entry" ? [] : key.slice("item ".length)));
    const done = await (isOpen ? entry : rows)(items.slice(0, MOST_AT_ONCE));
    return done ? items.slice(MOST_AT_ONCE).map((id): Key => `item ${id}`) : [...keys];
  };
  return { list, more, entry: () => entry(), oneOf };
}

function problemWords(error: unknown) {
  if (error instanceof TypeError || error instanceof DOMException)
    return "The office is not reached. This is what was there last; what you write is kept here until it is.";
  return errorWords(error);
}
