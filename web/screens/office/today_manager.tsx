/**
 * What a manager's Today has beside everybody's: the copies in trouble, what was handled that is stopped, and the day's
 * news as they come.
 */
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { OF_A_ROUND, useAskedOfDay } from "../../parts/day_at_news.ts";
import { LateActsOfDay } from "../../parts/late_acts.tsx";
import { useDay, useDevice } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";

/** A desk keeps the same pack, and has no more on its Today than others. */
export function ForManagers() {
  return useDevice()?.role === "manager" ? <ManagersToday /> : null;
}

/** Whoever leads the day hears of an incident when the office does. */
function ManagersToday() {
  const day = useDay();
  useAskedOfDay(day?.record_id ?? "", syncNow, OF_A_ROUND);
  return (
    <>
      {day && <LateActsOfDay day={day} />}
      <CopiesBar />
    </>
  );
}
