/** What a screen asks the office for again whenever something was kept, however fast a hall of phones sends. */
import { useEffect, useRef, useState } from "preact/hooks";
import { gathering } from "../job/gathered.ts";
import { useLatest, useOfficeNews } from "./use.ts";

/**
 * `ask` is called twice a second at most, one call at a time, and once more after the last news; and again, ever later,
 * as long as it answers that nobody was reached (false) and the screen stands. It never throws. What is given has it
 * called as news do. `kind`: news of records, unless it is said.
 */
export function useAskedAtNews(ask: () => Promise<unknown>, kind?: string): () => void {
  const latest = useLatest(ask);
  const isHere = useRef(true);
  const [want] = useState(() =>
    gathering<"news">(async () => (isHere.current && (await latest.current()) === false ? ["news"] : [])),
  );
  useEffect(() => {
    isHere.current = true;
    return () => {
      isHere.current = false;
    };
  }, []);
  const again = () => want(["news"]);
  useOfficeNews(again, kind);
  return again;
}
