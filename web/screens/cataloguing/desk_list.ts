/**
 * The desk's list and the entry that is open, read from the office: as they are asked for, and again when the office says
 * that something of what is shown has changed. Nothing else is asked for, and nothing more than twice a second.
 */

import { useCallback, useEffect, useLayoutEffect, useMemo, useState } from "preact/hooks";
import { same } from "../../job/between.ts";
import { ASKED_NOTHING, type Asked, type EntryPage, type News, type QueuePage } from "../../job/desk.ts";
import { gathering } from "../../job/gathered.ts";
import { isCountedOtherwise, withRow, withRows } from "../../job/rows.ts";
import type { Opened } from "../../local/opened.ts";
import { openedAs, openedEntry, storeOpened } from "../../local/store_opened.ts";
import { useLatest, useOfficeNews } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";

const PAGE = 50;
const MOST_AT_ONCE = 200;
const SETTLE_MS = 150;

/** What was asked last stays, so that coming back from another screen shows the same list. */
let askedLast: Asked = ASKED_NOTHING;

/** What is to be asked: the list from its start, the entry that is open, or a row by its item. */
type Key = "list" | "entry" | `item ${string}`;

export type DeskList = ReturnType<typeof useDeskList>;

export function useDeskList(item_id: string) {
  const [asked, setAsked] = useState(askedLast);
  const [list, setList] = useState<QueuePage | null>(null);
  const [listed, setListed] = useState<Asked | null>(null);
  const [entry, setEntry] = useState<Opened | null>(null);
  const [problem, setProblem] = useState("");
  const shown = entry && isOf(entry, item_id) ? entry : null;
  const now = useLatest({ asked, list, entry: shown, item_id });
  const read = useMemo(() => readersOf(now, { setList, setListed, setEntry, setProblem }), []);
  const want = useMemo(() => gathering<Key>((keys) => read.oneOf(keys)), []);

  useEffect(() => {
    const timer = setTimeout(() => want(["list"]), now.current.list ? SETTLE_MS : 0); // a word is typed to its end
    return () => clearTimeout(timer);
  }, [asked]);
  useLayoutEffect(() => {
    // Before it is painted that something was pressed: the office answers meanwhile.
    if (item_id) read.entry().then(want);
  }, [item_id]);
  useEffect(() => {
    if (!item_id) return;
    openedEntry(item_id).then((opened) => {
      if (opened && now.current.item_id === item_id)
        setEntry((known) => (known && isOf(known, item_id) ? known : opened)); // the office may have been faster
    });
  }, [item_id]);
  useOfficeNews((news) => want(touchedBy(news, now.current)));

  const ask = useCallback((change: Partial<Asked>) => {
    askedLast = { ...askedLast, ...change };
    setAsked(askedLast);
  }, []);
  /** Whether the list is what was asked: whoever types fast is ahead of it. */
  const isAsAsked = listed === asked;
  return { asked, ask, list, isAsAsked, more: read.more, problem, entry: shown };
}

type Shown = { asked: Asked; list: QueuePage | null; entry: Opened | null; item_id: string };

function isOf({ record_ids }: Opened, item_id: string) {
  return record_ids[0] === item_id;
}

/** What of the news is shown here; a thing that is new belongs to the end of the list, if that is shown. */
function touchedBy({ cursor, changed }: News, { list, entry }: Shown): Key[] {
  if (!list) return [];
  if (!changed) return cursor === list.cursor ? [] : ["list", "entry"];
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
  setProblem: (words: string) => void;
};

/** Asking, one request at a time. Whatever fails is told, and what is shown stays. */
function readersOf(now: { current: Shown }, { setList, setListed, setEntry, setProblem }: Setters) {
  const page = (change: Record<string, string>) => {
    const { asked } = now.current;
    return get<QueuePage>(`/queue?${new URLSearchParams({ ...asked, ...change })}`);
  };
  const told = async (work: () => Promise<void>) => {
    try {
      await work();
      setProblem("");
    } catch (error) {
      setProblem(problemWords(error));
    }
  };
  const list = () =>
    told(async () => {
      const { asked } = now.current;
      const limit = Math.min(MOST_AT_ONCE, Math.max(PAGE, now.current.list?.entries.length ?? 0));
      const first = await page({ counts: "1", limit: String(limit) });
      if (now.current.asked !== asked) return;
      setList(first);
      setListed(asked);
    });
  const more = () =>
    told(async () => {
      const after = now.current.list?.next;
      if (!after) return;
      const next = await page({ after: String(after), limit: String(PAGE) });
      setList(
        (before) =>
          before && {
            ...before,
            ...next,
            counts: before.counts,
            entries: [...before.entries, ...next.entries],
          },
      );
    });
  const rows = (items: string[]) =>
    told(async () => {
      const changed = await page({ items: items.join(","), counts: "1" });
      setList((before) => before && withRows(before, changed, items, now.current.item_id));
    });
  /** The entry with its row; the row is still to be asked for by itself if the list is counted otherwise for it. */
  const entry = async (): Promise<Key[]> => {
    const { item_id, asked, entry: before } = now.current;
    if (!item_id) return [];
    let isOtherwise = false;
    await told(async () => {
      const page = await get<EntryPage>(`/entries/${item_id}`);
      const opened = openedAs(page, new Date().toISOString());
      const kept = storeOpened(page, opened);
      if (now.current.item_id === item_id) {
        const { row } = page;
        const was = before?.row;
        isOtherwise = Boolean(row && was && (asked.words ? !same(row, was) : isCountedOtherwise(was, row)));
        setEntry(opened);
        if (row) setList((list) => list && withRow(list, row));
      }
      await kept; // the entry is drawn meanwhile; that it could not be kept is told
    });
    return isOtherwise ? [`item ${item_id}`] : [];
  };
  const oneOf = async (keys: ReadonlySet<Key>): Promise<Key[]> => {
    if (keys.has("list")) {
      await list();
      return keys.has("entry") ? ["entry"] : [];
    }
    if (keys.has("entry")) {
      const itself: Key = `item ${now.current.item_id}`; // its row comes with the entry
      return [...(await entry()), ...[...keys].filter((key) => key !== "entry" && key !== itself)];
    }
    const items = [...keys].map((key) => key.slice("item ".length));
    await rows(items.slice(0, MOST_AT_ONCE));
    return items.slice(MOST_AT_ONCE).map((id): Key => `item ${id}`);
  };
  return { list, more, entry, oneOf };
}

function problemWords(error: unknown) {
  if (error instanceof TypeError || error instanceof DOMException)
    return "The office is not reached. This is what was there last; what you write is kept here until it is.";
  return error instanceof Error ? error.message : String(error);
}
