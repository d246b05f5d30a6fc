/** Of the days before this one, as the office tells it: what has not come still, and what nobody has explained. */
import { useEffect, useState } from "preact/hooks";
import { dateWords } from "../job/day_facts.ts";
import { get, mayPass } from "../sync/office.ts";
import { useAskedAtNews } from "./asked_at_news.ts";
import { Sign } from "./sign.tsx";

type DayBefore = { day_id: string; held_on: string; closed: boolean; count: number; lines: string[] };

/** It counts for none of the sums of this day: it is there so that somebody looks for it. */
export function DaysBefore({ day_id }: { day_id: string }) {
  const [days, setDays] = useState<DayBefore[]>([]);
  const ask = useAskedAtNews(
    async () => {
      try {
        setDays((await get<{ days: DayBefore[] }>(`/days/${day_id}/before`)).days);
      } catch (error) {
        return !mayPass(error);
      }
      return true;
    },
    { of: ({ changed }) => !changed || changed.some(([, , , of_day]) => of_day !== day_id), rest: 4 },
  );
  useEffect(ask, [day_id]);
  if (!days.length) return null;
  return (
    <section class="card on-screen">
      <h2>
        Of the days before <span class="count">{days.reduce((sum, { count }) => sum + count, 0)}</span>
      </h2>
      {days.map(({ day_id: before, held_on, closed, count, lines }) => (
        <div key={before}>
          <p>
            <a href={`#/closings/${before}`}>
              {dateWords(held_on)}
              {closed ? "" : ", not closed"}: {count} not come, or not explained
            </a>
          </p>
          <ul class="lines-of">
            {lines.map((words) => (
              <li key={words}>
                <Sign of="differs" /> <span>{words}</span>
              </li>
            ))}
          </ul>
          {count > lines.length && <p class="hint">And {count - lines.length} more.</p>}
        </div>
      ))}
    </section>
  );
}
