/** What a manager's Today has beside everybody's: the copies in trouble, and the day's news as they come. */
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { useAskedOfDay } from "../../parts/day_at_news.ts";
import { useDay } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";

/** Whoever leads the day hears of an incident when the office does. */
export function ManagersToday() {
  useAskedOfDay(useDay()?.record_id ?? "", syncNow);
  return <CopiesBar />;
}
