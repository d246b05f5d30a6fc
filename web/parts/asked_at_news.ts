/** What a screen asks the office for again whenever something was kept, however fast a hall of phones sends. */
import { useEffect, useRef, useState } from "preact/hooks";
import type { News } from "../job/desk.ts";
import { DEVICE_CLOCK, gathering, type Turn } from "../job/gathered.ts";
import { useLatest, useOfficeNews } from "./use.ts";

type AtNews = {
  kind?: string;
  of?: (news: News) => boolean;
  rest?: number;
  turn?: Turn;
  requests?: number;
};

/**
 * `ask` is called twice a second at most, one call at a time, and once more after the last news; and again, ever later,
 * as long as it answers that nobody was reached (false) and the screen stands. It never throws. What is given has it
 * called as news do. `of`: those of the news that concern the screen. `kind`: news of records, unless it is said.
 * `rest`, `turn`, `requests`: as in `gathering`.
 */
export function useAskedAtNews(
  ask: () => Promise<unknown>,
  { kind, of, rest, turn, requests }: AtNews = {},
): () => void {
  const latest = useLatest(ask);
  const isHere = useRef(true);
  const [want] = useState(() =>
    gathering<"news">(
      async () => (isHere.current && (await latest.current()) === false ? ["news"] : []),
      DEVICE_CLOCK,
      rest,
      { turn, requests },
    ),
  );
  useEffect(() => {
    isHere.current = true;
    return () => {
      isHere.current = false;
    };
  }, []);
  const again = () => want(["news"]);
  useOfficeNews((news) => (!of || of(news)) && again(), kind);
  return again;
}
