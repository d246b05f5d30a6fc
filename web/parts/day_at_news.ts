/** What a screen of one day asks for again as something of that day is kept, and at no other news. */
import { isNewsOf, REST } from "../job/day_news.ts";
import { useAskedAtNews } from "./asked_at_news.ts";

/** As `useAskedAtNews`, twice a second at most, and for a fifth of the time that the answers take. */
export function useAskedOfDay(day_id: string, ask: () => Promise<unknown>) {
  return useAskedAtNews(ask, { of: (news) => isNewsOf(day_id, news), rest: REST });
}
