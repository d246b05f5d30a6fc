/** Which of the days on this device it is. */

import { dateWords, dayFacts } from "../../job/day_facts.ts";
import type { DayRecord } from "../../job/types.ts";
import { takeUpWork } from "../../local/day.ts";
import type { Role } from "../../local/device.ts";
import { NoDayYet } from "../../parts/choose_day.tsx";
import { Frame } from "../../parts/frame.tsx";

export function ChooseDay({ days, role }: { days: DayRecord[]; role: Role }) {
  return (
    <Frame title="Today" place="#/today">
      {days.length ? (
        <>
          <p class="lead">Which day is it?</p>
          <ul class="rows">
            {days.map((day) => (
              <li key={day.record_id}>
                <button type="button" class="row" onClick={() => takeUpWork({ day_id: day.record_id })}>
                  <strong>{dateWords(dayFacts(day).held_on)}</strong> {dayFacts(day).house},{" "}
                  {dayFacts(day).place}
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
