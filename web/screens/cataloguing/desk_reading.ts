/** What a desk asks the office for: its list, rows of it, the entry that is open, what was said here and gave way. */

import type { Asked, EntryPage, News, QueuePage } from "../../job/desk.ts";
import { withMore, withRow, withRows } from "../../job/rows.ts";
import { errorWords } from "../../job/words.ts";
import type { Opened } from "../../local/opened.ts";
import { isAnotherLog, openedAs, storeOpened } from "../../local/store_opened.ts";
import { standsNow, tellAgain, toldVisit } from "../../local/told.ts";
import { get, mayPass } from "../../sync/office.ts";
import { knowing } from "../../sync/round.ts";
import { getAsErased } from "./as_erased.ts";
import { readingMore } from "./desk_more.ts";
import { type Key, type Settlements, type Shown, touchedBy, touchedInList } from "./desk_news.ts";
import { inTurns, stayingOpen } from "./desk_turns.ts";

const PAGE = 50;
const MOST_AT_ONCE = 200;

type Setter<Value> = (value: Value | ((before: Value) => Value)) => void;

type Setters = {
  setList: Setter<QueuePage | null>;
  setListed: (asked: Asked) => void;
  setEntry: Setter<Opened | null>;
  setSettlements: Setter<Settlements>;
  setProblem: (words: string) => void;
  /** The office stands otherwise than this device knew: a round finds out what it lost, and all is asked for anew. */
  miss: () => void;
  /** What came is of before something that was told while it was on its way. */
  again: (keys: readonly Key[]) => void;
};

/**
 * Asking, one request for whatever is to be asked. Whatever fails is told, and what is shown stays. `oneOf` makes one,
 * and gives those keys that are still to be asked for: all, if nobody answered. Others say if they were, be it by a no.
 */
export function readersOf(
  now: { current: Shown },
  { setList, setListed, setEntry, setSettlements, setProblem, miss, again }: Setters,
) {
  const staying = stayingOpen(now, again);
  let underWay = 0;
  let heard: News[] = []; // while something is on its way
  const attempted = async (work: () => Promise<void>) => {
    underWay += 1;
    try {
      await work();
      setProblem("");
      return true;
    } catch (error) {
      setProblem(problemWords(error));
      return !mayPass(error);
    } finally {
      underWay -= 1;
      if (!underWay) heard = [];
    }
  };
  /** What is to be asked for of what came: by news that it does not know of, and that could not name it by then. */
  const since = (cursor: number, came: Partial<Shown>) =>
    heard
      .filter((news) => news.cursor > cursor)
      .flatMap((news) => touchedInList(news, { ...now.current, ...came }));
  const page = (change: Record<string, string>) =>
    get<QueuePage>(`/queue?${new URLSearchParams({ ...now.current.asked, ...change })}`);
  const mostFromStart = () => Math.min(MOST_AT_ONCE, Math.max(PAGE, now.current.list?.entries.length ?? 0));
  const fromStart = () => ({ counts: "1", limit: String(mostFromStart()) });
  /** The list that came last, and what was shown by then: it is drawn a moment later. */
  let came: { asked: Asked; list: QueuePage; before: QueuePage | null } | null = null;
  let told = -1; // the place in the feed of what was told while another list was shown than was asked for
  const takeList = (asked: Asked, list: QueuePage | null) => {
    if (!list || now.current.asked !== asked) return;
    came = { asked, list, before: now.current.list };
    setList(list);
    setListed(asked);
    staying.forget();
    again(list.cursor < told ? ["list"] : since(list.cursor, { list, searched: list }));
    hasCome(asked);
  };
  /** The list as it is now, be it drawn already or not. */
  const newest = () => (came && came.before === now.current.list ? came.list : now.current.list);
  /** What news ask for. While a list is on its way nobody knows whether it says what they tell. */
  const hear = (news: News) => {
    if (underWay) heard.push(news);
    const { asked } = now.current;
    if (came?.asked !== asked) {
      told = news.cursor;
      return touchedBy(news, now.current).filter((key) => key !== "counts"); // that list brings its own
    }
    return touchedBy(news, { ...now.current, list: newest(), searched: came.list });
  };
  const takeRows = (asked: Asked, fresh: QueuePage | null, items: readonly string[]) => {
    if (!fresh || now.current.asked !== asked) return; // the list is read anew, as it is asked now
    const { list: shown, item_id } = now.current;
    setList((list) => list && withRows(list, fresh, items, now.current.item_id));
    staying.note(items, fresh);
    // One that came from behind the pages was on none of them as the news were heard.
    if (shown)
      again(since(fresh.cursor, { list: withRows(shown, fresh, items, item_id), searched: came?.list }));
  };
  const list = () =>
    attempted(async () => {
      const { asked } = now.current;
      takeList(asked, await page(fromStart()));
    });
  const { more, hasCome } = readingMore(now, {
    isShown: (asked) => came?.asked === asked,
    newest,
    pageAfter: (seq) => page({ after: String(seq), limit: String(PAGE) }),
    take: (next, from, list) => {
      setList((before) => before && withMore(before, next, from));
      again(since(next.cursor, { list, searched: came?.list }));
    },
    attempted,
  });
  /** Whether words find anything in the whole list, whatever it is narrowed to. */
  const findsAny = async (words: string) =>
    (await get<QueuePage>(`/queue?${new URLSearchParams({ words, limit: "1" })}`)).count > 0;
  /** These rows, and as many from behind the pages as leave them. */
  const among = (items: readonly string[]): Record<string, string> => {
    const { list, item_id } = now.current;
    const ids = new Set(items);
    const some = list?.entries.filter((row) => row.item_id !== item_id && ids.has(row.item_id)) ?? [];
    const of = { counts: "1", items: items.join(",") };
    return list?.next && some.length ? { ...of, after: `${list.next}`, fill: `${some.length}` } : of;
  };
  const rows = (items: string[]) =>
    attempted(async () => {
      const { asked } = now.current;
      takeRows(asked, await page(among(items)), items);
    });
  /** The open entry, and what the list says beside it: nothing, these rows of it, or all of it. */
  const entry = async (beside?: string[] | "list") => {
    let came = false; // what could not be kept here came all the same
    const done = await attempted(async () => {
      const { item_id, asked } = now.current;
      if (!item_id) return;
      const listed = beside === "list" ? fromStart() : beside && among(beside);
      const owner = toldVisit();
      const stood = standsNow(owner);
      const query = new URLSearchParams({
        ...(owner && { told: "1" }),
        ...(listed && { ...asked, ...listed }),
      });
      const [path, known] = knowing(`/entries/${item_id}?${query}`);
      const page = await getAsErased<EntryPage>(path);
      came = true;
      const opened = openedAs(page, new Date().toISOString());
      if (page.told) tellAgain(page.told, stood);
      const kept = storeOpened(page, opened, known);
      if (now.current.item_id === item_id) setEntry(opened);
      if (beside === "list") takeList(asked, page.list);
      else if (beside) takeRows(asked, page.list, beside);
      const { row } = page;
      const isOpen = now.current.item_id === item_id;
      const unsaid = since(page.cursor, isOpen ? { entry: opened } : {});
      if (isOpen) again(unsaid);
      // The open one stays in the list, whatever is asked; as it was before, it is in the list as it is now. Its news
      // may have been heard, and its row read, while this was on its way, also after another was opened.
      const isOld = unsaid.includes(`item ${item_id}`) || (isOpen && unsaid.includes("entry"));
      if (row && !isOld) setList((list) => list && withRow(list, row));
      await kept; // all is drawn meanwhile; that it could not be kept is told
      if (page.office && isAnotherLog(page.office, known)) miss();
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
  const listedOf = async (keys: ReadonlySet<Key>): Promise<Key[]> => {
    const isOpen = keys.has("entry") && now.current.item_id !== "";
    const items = [...keys].flatMap((key) => (key.startsWith("item ") ? key.slice("item ".length) : []));
    // More at once than its pages hold: they are read anew, which is less to ask and to draw.
    if (keys.has("list") || items.length > mostFromStart()) {
      if (!isOpen || now.current.entry) {
        const done = await (isOpen ? entry("list") : list());
        return done ? [] : [...keys];
      }
      const done = await list(); // by itself, since the office may have no such entry
      return done ? ["entry"] : [...keys];
    }
    const done = await (isOpen ? entry : rows)(items); // of none the counts alone
    return done ? [] : [...keys];
  };
  const oneOf = inTurns(now, settlements, listedOf);
  return { list, more, findsAny, entry: () => entry(), leave: staying.leave, oneOf, hear };
}

function problemWords(error: unknown) {
  if (error instanceof TypeError || error instanceof DOMException)
    return "The office is not reached. This is what was there last; what you write is kept here until it is.";
  return errorWords(error);
}
