/** What a desk shows while it has no list: the entries that it opened last, which it keeps. */
import { useEffect, useState } from "preact/hooks";
import type { QueueRow } from "../../job/desk.ts";
import { device } from "../../local/memory.ts";
import { openedLast } from "../../local/store_opened.ts";
import { useSelected } from "../../parts/use.ts";

/** An office that answers nothing at all is waited for so long. */
const PATIENCE_MS = 4000;

/** Their rows, the last first; empty as long as the office may answer yet. */
export function useOpenedRows(hasList: boolean, isOutOfReach: boolean): QueueRow[] {
  const [rows, setRows] = useState<QueueRow[]>([]);
  const [isLate, setLate] = useState(false);
  const isOff = useSelected(() => Boolean(device.value?.revoked), []);
  const isWanted = !hasList && !isOff && (isOutOfReach || isLate);
  useEffect(() => {
    if (hasList) return setLate(false);
    const timer = setTimeout(() => setLate(true), PATIENCE_MS);
    return () => clearTimeout(timer);
  }, [hasList]);
  useEffect(() => {
    if (isWanted) openedLast().then((opened) => setRows(opened.flatMap(({ row }) => row ?? [])));
    else setRows([]);
  }, [isWanted]);
  return rows;
}
