/**
 * The desk's list and the entry that is open, read from the office: as they are asked for, and again when the office
 * says that something of what is shown has changed. Nothing else is asked for, and nothing more than twice a second.
 */

import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { same } from "../../job/between.ts";
import { ASKED_NOTHING, type Asked, type QueuePage } from "../../job/desk.ts";
import { gathering } from "../../job/gathered.ts";
import type { ThisDevice } from "../../local/device.ts";
import { erasures, forgotten } from "../../local/memory.ts";
import type { Opened } from "../../local/opened.ts";
import { seenOverruled } from "../../local/overruled.ts";
import { openedEntry } from "../../local/store_opened.ts";
import { useDevice, useLatest, useOfficeNews } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";
import { emptyUnlessFound } from "./desk_erased.ts";
import { isOf, type Key, SETTLEMENTS_AT_START, type Settlements } from "./desk_news.ts";
import { readersOf } from "./desk_reading.ts";

const SETTLE_MS = 150;

/** What was asked last stays, so that coming back from another screen shows the same list; and as whose device. */
let askedLast: Asked = ASKED_NOTHING;
let askedAs = "";

/** As of which erasures that is: words that were searched before another was heard may be the erased owner's. */
let erasedThen = erasures.peek();

/** The list as it came last stands at once while it is asked for anew, and as long as the office is not reached. */
let listLast: { of: Asked; list: QueuePage } | null = null;

/** So does what the office told of last, where it is not reached. */
const NONE_TOLD: Settlements = { cursor: null, records: [] };
let settledLast = NONE_TOLD;

export type DeskList = ReturnType<typeof useDeskList>;

export function useDeskList(item_id: string) {
  const whose = whoseOf(useDevice()); // for another's the screen is made anew
  const [asked, setAsked] = useState(() => askedHere(whose));
  const [list, setList] = useState(keptList);
  const [listed, setListed] = useState(() => keptList() && askedLast);
  const isAtStart = useRef(true);
  const [entry, setEntry] = useState<Opened | null>(null);
  const [settlements, setSettlements] = useState(settledLast);
  const [problem, setProblem] = useState("");
  settledLast = settlements;
  const erased = erasures.value;
  const [isEmptied, setEmptied] = useState(false);
  const shown = entry && isOf(entry, item_id) ? entry : null;
  const now = useLatest({ asked, list, entry: shown, item_id, settlements, seen: seenOverruled() });
  const read = useMemo(
    () =>
      readersOf(now, {
        setList,
        setListed,
        setEntry,
        setSettlements,
        setProblem,
        miss: syncNow,
        again: (keys) => want(keys),
      }),
    [],
  );
  const isHere = useRef(true);
  const want = useMemo(
    () => gathering<Key>(async (keys) => (isHere.current ? await read.oneOf(keys) : [])),
    [],
  );
  const ask = useCallback((change: Partial<Asked>) => {
    askedLast = { ...askedLast, ...change };
    setAsked(askedLast);
    setEmptied(false);
  }, []);
  useLayoutEffect(() => {
    if (same(erased, erasedThen)) return;
    erasedThen = erased;
    const empty = () => {
      ask({ words: "" });
      setList(null);
      setEmptied(true);
    };
    emptyUnlessFound(() => askedLast.words, read.findsAny, empty);
  }, [erased]);
  useLayoutEffect(() => {
    isHere.current = true;
    return () => {
      isHere.current = false;
    };
  }, []);

  // Both before it is painted that something was pressed: the office answers meanwhile.
  useLayoutEffect(() => {
    read.leave();
    if (item_id) read.entry().then((done) => done || want(["entry"]));
  }, [item_id]);
  useLayoutEffect(() => {
    const isFirst = isAtStart.current || !listed;
    isAtStart.current = false;
    if (isFirst) return want(["list"]);
    const timer = setTimeout(() => want(["list"]), SETTLE_MS); // a word is typed to its end
    return () => clearTimeout(timer);
  }, [asked]);
  useEffect(() => {
    if (!item_id) return;
    openedEntry(item_id).then((opened) => {
      if (opened && now.current.item_id === item_id)
        setEntry((known) => (known && isOf(known, item_id) ? known : opened)); // the office may have been faster
    });
  }, [item_id]);
  useEffect(() => {
    // Once it stands: one that could not be drawn is asked for anew.
    if (list && listed === asked) listLast = { of: asked, list };
  }, [list, listed, asked]);
  useEffect(() => want([SETTLEMENTS_AT_START]), []);
  useOfficeNews((news) => want(read.hear(news)));
  const lost_at = forgotten.value?.noticed_at;
  const heardOf = useRef(lost_at);
  useEffect(() => {
    // What was shown is of a log that is no more, and the places in it say nothing of this one.
    if (lost_at === heardOf.current) return;
    heardOf.current = lost_at;
    want(["list", "entry"]);
  }, [lost_at]);

  /** Whether the list is what was asked: whoever types fast is ahead of it. */
  const isAsAsked = listed === asked;
  return {
    asked,
    ask,
    list,
    isAsAsked,
    isEmptied,
    more: read.more,
    problem,
    entry: shown,
    settled: settlements.records,
  };
}

/**
 * A device that was signed off or given other work searches for nobody: the list is asked for, and the office's no is
 * told.
 */
function askedHere(whose: string): Asked {
  if (whose !== askedAs) {
    askedAs = whose;
    askedLast = { ...ASKED_NOTHING };
    listLast = null;
    settledLast = NONE_TOLD;
  }
  return askedLast;
}

/** None where something else was asked since, or as another's device; see `askedHere`. */
function keptList(): QueuePage | null {
  return listLast?.of === askedLast ? listLast.list : null;
}

/** "" for a device that was signed off: it shows nothing of what it was told before. */
function whoseOf(device: ThisDevice | null | undefined): string {
  return device && !device.revoked ? `${device.device_id} ${device.role}` : "";
}
