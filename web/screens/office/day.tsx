/** The manager's screen: the valuation days on this device, and setting up another. */

import { useState } from "preact/hooks";
import { dayFacts, dayWords } from "../../job/day_facts.ts";
import type { DayRecord } from "../../job/types.ts";
import { rememberDevice } from "../../local/device.ts";
import { Below } from "../../parts/below.tsx";
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { Frame } from "../../parts/frame.tsx";
import { useDevice, useRecords } from "../../parts/use.ts";
import { Contested } from "./day_contested.tsx";
import { CorrectDay } from "./day_correct.tsx";
import { DayFigures } from "./day_figures.tsx";
import { NewDay } from "./day_new.tsx";
import { People } from "./day_people.tsx";
import { Tickets } from "./day_tickets.tsx";

export default function Day() {
  const days = useRecords("day");
  const device = useDevice();
  const [making, setMaking] = useState(false);
  if (!days || !device)
    return (
      <Frame title="Day" place="#/day">
        <p>Reading …</p>
      </Frame>
    );
  if (making) return <NewDay close={() => setMaking(false)} />;
  return (
    <Frame
      title="Day"
      place="#/day"
      action={
        <button type="button" class="main" onClick={() => setMaking(true)}>
          Set up a day
        </button>
      }
    >
      <CopiesBar />
      {days.length ? (
        <p class="lines on-screen">
          <a href="#/closings">How each day was closed</a>
        </p>
      ) : (
        <p class="lead">No valuation day is set up yet.</p>
      )}
      {days.map((day) => (
        <OneDay key={day.record_id} day={day} chosen={device.day_id === day.record_id} />
      ))}
    </Frame>
  );
}

type DayOf = { day: DayRecord; chosen: boolean };

function OneDay({ day, chosen }: DayOf) {
  const { tables, currency } = dayFacts(day);
  return (
    <section>
      <h2>{dayWords(day)}</h2>
      <p>
        Tables: {tables.map((table) => table.name).join(", ") || "none"}. Currency: {currency}.
        {chosen ? (
          " This device works on this day."
        ) : (
          <button type="button" class="quiet" onClick={() => rememberDevice({ day_id: day.record_id })}>
            Work on this day
          </button>
        )}
      </p>
      <Contested day={day} />
      {chosen && <DayFigures day_id={day.record_id} />}
      {chosen && (
        <p>
          <a class="button" href="#/preflight">
            Before the doors open
          </a>
        </p>
      )}
      <Below>
        <CorrectDay day={day} />
        <People day={day} />
        {chosen && <Tickets day={day} />}
      </Below>
    </section>
  );
}
