/** Reading the queue from the office, page by page, whenever it is asked otherwise or something was kept there. */
import { useEffect, useRef, useState } from "preact/hooks";
import { useOfficeNews } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";
import { syncNow } from "../../sync/sync.ts";

export type QueueEntry = {
  entry_seq: number;
  item_id: string;
  ticket: string | null;
  short_description: string | null;
  class_id: string | null;
  state: string;
  tags: string[];
  photo_count: number;
  finding_count: number;
  disagreement_count: number;
  caution: string | null;
  arrived_at: string;
  thumb_sha256: string | null;
  missing: number | null;
};

/** A page of the queue as the office gives it; `next` is where the one after it begins. */
export type QueuePage = {
  entries: QueueEntry[];
  count: number;
  count_capped: boolean;
  next: number | null;
};
export type Asked = { words: string; state: string; class_id: string };

const PAGE = 50;
const SETTLE_MS = 150;

/** What was asked last stays, so that coming back from an entry shows the same list. */
let askedLast: Asked = { words: "", state: "", class_id: "" };

/** The list as asked. `news` changes whenever the office has kept something. */
export function useQueue() {
  const [asked, setAsked] = useState(askedLast);
  const [list, setList] = useState<QueuePage | null>(null);
  const [problem, setProblem] = useState("");
  const [news, setNews] = useState(0);
  const wanted = useRef(PAGE);
  useOfficeNews(() => {
    setNews((count) => count + 1);
    syncNow(); // the visit and the other items of the day are read from this device
  });
  useEffect(() => {
    let live = true;
    const read = async () => {
      try {
        const pages = await readPages(asked, wanted.current);
        if (!live) return;
        setList(pages);
        setProblem("");
      } catch (error) {
        if (live) setProblem(problemWords(error));
      }
    };
    const timer = setTimeout(read, SETTLE_MS);
    return () => {
      live = false;
      clearTimeout(timer);
    };
  }, [asked, news]);
  const ask = (change: Partial<Asked>) => {
    wanted.current = PAGE;
    askedLast = { ...asked, ...change };
    setAsked(askedLast);
  };
  const more = () => {
    wanted.current += PAGE;
    setNews((count) => count + 1);
  };
  return { asked, ask, list, more, problem, news };
}

function problemWords(error: unknown) {
  if (error instanceof TypeError || error instanceof DOMException)
    return "The office is not reached. The queue is read from it; this is what was seen last.";
  return error instanceof Error ? error.message : String(error);
}

async function readPages(asked: Asked, wanted: number): Promise<QueuePage> {
  const entries: QueueEntry[] = [];
  let page: QueuePage;
  let after = 0;
  do {
    page = await get(
      `/queue?${new URLSearchParams({ ...asked, after: String(after), limit: String(PAGE) })}`,
    );
    entries.push(...page.entries);
    after = page.next ?? 0;
  } while (after && entries.length < wanted);
  return { ...page, entries };
}
