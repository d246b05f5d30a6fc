/** Which of the days on this device it is. */

import { dateWords, dayFacts } from "../../job/day_facts.ts";
import { daysAlike, dayWordsApart, isStanding, whoSetUp } from "../../job/next_day.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { workOnDay } from "../../local/day.ts";
import type { Role } from "../../local/device.ts";
import { owedCount } from "../../local/owed_count.ts";
import { NoDayYet } from "../../parts/choose_day.tsx";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecords } from "../../parts/use.ts";

export function ChooseDay({ days: all, role }: { days: DayRecord[]; role: Role }) {
  const days = all.filter(isStanding);
  return (
    <Frame title="Today" place="#/today">
      {days.length ? (
        <>
          <p class="lead">Which day is it?</p>
          <ul class="rows">
            {days.map((day) => (
              <li key={day.record_id}>
                <button type="button" class="row" onClick={() => attempt(() => workOnDay(day.record_id))}>
                  <strong>{dateWords(dayFacts(day).held_on)}</strong> {dayFacts(day).house},{" "}
                  {dayFacts(day).place}
                  {daysAlike(day, days).length > 0 && `, ${whoSetUp(day, momentWords)}`}
                </button>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <NoDayYet role={role} />
      )}
    </Frame>
  );
}

/**
 * Another day goes on from this one: nobody takes in tomorrow's owners on yesterday's record. Nor does anybody leave a
 * count behind that is not recorded.
 */
export function GoesOn({ day, next }: { day: DayRecord; next: DayRecord }) {
  const owed = owedCount(day.record_id);
  const days = useRecords("day") ?? [];
  const { held_on } = dayFacts(day);
  const isBack = dayFacts(next).held_on < held_on;
  const isOpen = !isBack && isStanding(day) && !fieldValue(day, "closed");
  return (
    <p class="bar with-key">
      <span>
        {!isStanding(day) && `${dateWords(held_on)} was set up twice, and this one is let go. `}
        {isBack ? "Today's day is open" : "Set up"}: {dayWordsApart(next, days, momentWords)}.
        {isOpen && ` ${dateWords(held_on)} is not closed yet.`}
        {owed && ` First record the count that is open here, ${owed}.`}
      </span>
      {owed ? (
        <a class="button" href="#/porter">
          To the count
        </a>
      ) : (
        <button type="button" onClick={() => attempt(() => workOnDay(next.record_id))}>
          Work on it
        </button>
      )}
    </p>
  );
}

/** The same as the next step. */
export function WorkOn({ day, next }: { day: DayRecord; next: DayRecord }) {
  if (owedCount(day.record_id))
    return (
      <TieOn href="#/porter" left={`then work on ${dateWords(dayFacts(next).held_on)}`}>
        Record the count
      </TieOn>
    );
  return <TieOn press={() => workOnDay(next.record_id)}>Work on {dateWords(dayFacts(next).held_on)}</TieOn>;
}
