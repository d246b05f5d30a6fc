/**
 * The closings of days that this device does not hold, as the office reads them off its records: the list, and one day.
 */

import { useEffect, useState } from "preact/hooks";
import type { DayListed, DaysPage } from "../../job/day_closing.ts";
import { dateWords, dayWords } from "../../job/day_facts.ts";
import { countWords, errorWords } from "../../job/words.ts";
import { workOnDay } from "../../local/day.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";
import { get, mayPass } from "../../sync/office.ts";
import { ClosingOfDay } from "./day_closing.tsx";

export default function DayClosings({ day_id }: { day_id: string }) {
  return day_id ? <ClosingOfDay key={day_id} day_id={day_id} /> : <Days />;
}

const isTwice = ({ day_id, held_on }: DayListed, days: readonly DayListed[]) =>
  days.some((other) => other.day_id !== day_id && other.held_on === held_on);

/** Of one date there are others: by who set it up, how much is on it, and whether it was let go. */
function setUpWords({ set_up_by, set_up_at, visits, let_go }: DayListed) {
  const at = set_up_at ? `, ${momentWords(set_up_at)}` : "";
  const by = `; set up by ${set_up_by || "somebody who gave no name"}${at}`;
  return `${by}; ${countWords(visits ?? 0, "visit")}${let_go ? `; let go: ${let_go}` : ""}`;
}

/** A manager goes back to a day whose things are asked for again; what is entered then is told as after its closing. */
function BackTo({ day: { day_id, held_on, is_over } }: { day: DayListed }) {
  const device = useDevice();
  if (device?.role !== "manager" || is_over === undefined) return null;
  if (day_id === device.day_id) return <p class="hint">This device works on this day.</p>;
  if (is_over)
    return <p class="hint">Too long ago to be worked on: its entries open by their numbers, to be read.</p>;
  return (
    <button
      type="button"
      class="quiet"
      onClick={() =>
        attempt(async () => {
          await workOnDay(day_id);
          location.hash = "#/day";
        })
      }
    >
      Work on {dateWords(held_on)}
    </button>
  );
}

/** Every day that there was, the latest first, a page at a time. */
function Days() {
  const [days, setDays] = useState<DayListed[] | null>(null);
  const [before, setBefore] = useState<number | null>(null);
  const [problem, setProblem] = useState("");
  const take = async () => {
    const page = await get<DaysPage>(`/days${before === null ? "" : `?before=${before}`}`);
    setDays([...(days ?? []), ...page.days]);
    setBefore(page.next);
  };
  const read = () => attempt(take);
  const begin = useAskedAtNews(async () => {
    try {
      if (!days) await take();
    } catch (error) {
      setProblem(errorWords(error));
      return !mayPass(error);
    }
    return true;
  });
  useEffect(begin, []);
  return (
    <Frame title="Closing" place="#/closings">
      {!days && <p class="none">{problem || "Asking …"}</p>}
      {days && !days.length && <p class="lead">No valuation day is set up yet.</p>}
      <ul class="rows">
        {days?.map((day) => (
          <li key={day.day_id}>
            <a class="row" href={`#/closings/${day.day_id}`}>
              <span class="what">
                {dayWords(day)}
                <small>
                  {day.closed_at ? `closed ${momentWords(day.closed_at)}` : "not closed yet"}
                  {isTwice(day, days) && setUpWords(day)}
                </small>
              </span>
            </a>
            <BackTo day={day} />
          </li>
        ))}
      </ul>
      {before !== null && (
        <button type="button" class="quiet" onClick={read}>
          Show earlier ones
        </button>
      )}
    </Frame>
  );
}
