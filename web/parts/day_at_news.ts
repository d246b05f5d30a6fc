/** What a screen of one day asks for again as something of that day is kept, and at no other news. */
import { isNewsOf, REST } from "../job/day_news.ts";
import { aTurn } from "../job/gathered.ts";
import { useAskedAtNews } from "./asked_at_news.ts";

/** All that asks at the news of a day asks twice a second at most together, whichever parts a screen has. */
export const OF_DAY = aTurn();

/** What a round of syncing asks for where nothing is owed: the feed and the plans. */
export const OF_A_ROUND = 2;

/** As `useAskedAtNews`, in the turn of the day's parts, and for a fifth of the time that the answers take. */
export function useAskedOfDay(day_id: string, ask: () => Promise<unknown>, requests = 1) {
  return useAskedAtNews(ask, { of: (news) => isNewsOf(day_id, news), rest: REST, turn: OF_DAY, requests });
}
