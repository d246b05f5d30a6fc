/** The next page of a desk's list, as somebody asks for more of it. */

import type { Asked, QueuePage } from "../../job/desk.ts";
import { withMore } from "../../job/rows.ts";
import type { Shown } from "./desk_news.ts";

type Reading = {
  /** Whether the list that is shown is the one that is asked for. */
  isShown: (asked: Asked) => boolean;
  /** The list as it is now, be it drawn already or not. */
  newest: () => QueuePage | null;
  pageAfter: (seq: number) => Promise<QueuePage>;
  /** To the list goes what came after `from`; `list` is what that makes of it. */
  take: (next: QueuePage, from: number, list: QueuePage) => void;
  attempted: (work: () => Promise<void>) => Promise<boolean>;
};

/** `more` asks for it; `hasCome` is told that a list is there, of which more may be wanted since before it came. */
export function readingMore(
  now: { current: Shown },
  { isShown, newest, pageAfter, take, attempted }: Reading,
) {
  let wantedOf: Asked | null = null;
  let isReadOf: Asked | null = null;
  /** False if rows were taken from behind the list while their page was on its way: it is to be asked for again. */
  const nextPage = async () => {
    const { asked } = now.current;
    const from = newest()?.next;
    if (!from) return true;
    const next = await pageAfter(from);
    const shown = newest();
    if (now.current.asked !== asked || !shown) return true;
    if (shown.next !== from) return false;
    take(next, from, withMore(shown, next, from));
    return true;
  };
  const more = async () => {
    const { asked } = now.current;
    if (!isShown(asked)) wantedOf = asked;
    if (!isShown(asked) || isReadOf === asked) return true;
    isReadOf = asked;
    const done = await attempted(async () => {
      while (!(await nextPage()));
    });
    if (isReadOf === asked) isReadOf = null;
    return done;
  };
  const hasCome = (asked: Asked) => {
    if (wantedOf !== asked) return;
    wantedOf = null;
    more();
  };
  return { more, hasCome };
}
