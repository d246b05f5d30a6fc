/** The manager's screen: the valuation days on this device, and setting up another. */

import { useState } from "preact/hooks";
import { dayFacts, tablesApart } from "../../job/day_facts.ts";
import { dayWordsApart, isStanding } from "../../job/next_day.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { workOnDay } from "../../local/day.ts";
import { Below } from "../../parts/below.tsx";
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { DayClosed } from "../../parts/day_closed.tsx";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDevice, useRecords } from "../../parts/use.ts";
import { Contested } from "./day_contested.tsx";
import { CorrectDay, TablesOfOneName } from "./day_correct.tsx";
import { DayGlance } from "./day_glance.tsx";
import { NewDay } from "./day_new.tsx";
import { People } from "./day_people.tsx";
import { Tickets } from "./day_tickets.tsx";
import { SetUpTwice } from "./day_twice.tsx";

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
  const chosen = days.find(({ record_id }) => record_id === device.day_id);
  if (making) return <NewDay before={chosen ?? days.at(-1)} close={() => setMaking(false)} />;
  const make = () => setMaking(true);
  return (
    <Frame title="Day" place="#/day" wide="wide" action={<NextStep day={chosen} make={make} />}>
      <CopiesBar />
      {!days.length && <p class="lead">No valuation day is set up yet.</p>}
      <SetUpTwice days={days} />
      {chosen && <Chosen day={chosen} />}
      <Below>
        {days.map((day) => day !== chosen && isStanding(day) && <Other key={day.record_id} day={day} />)}
        {days.length > 0 && (
          <p class="lines on-screen">
            <a href="#/closings">How each day was closed, and back to an earlier one</a>
          </p>
        )}
      </Below>
    </Frame>
  );
}

const BEFORE = "Before the doors open";

/**
 * Setting up, then the check before the doors open, the closing, and how that went: whichever comes next of the day.
 */
function NextStep({ day, make }: { day: DayRecord | undefined; make: () => void }) {
  const isBegun = useBegun(day);
  if (!day) return <TieOn press={make}>Set up a day</TieOn>;
  return (
    <>
      <button type="button" onClick={make}>
        Set up another day
      </button>
      {fieldValue(day, "closed") ? (
        <TieOn href="#/closing">How the day was closed</TieOn>
      ) : isBegun ? (
        <TieOn href="#/closing">Closing</TieOn>
      ) : (
        <TieOn href="#/preflight">{BEFORE}</TieOn>
      )}
    </>
  );
}

/** Whether there is something to close: a thing on record, or an owner whom checked doors let in. */
function useBegun(day: DayRecord | undefined): boolean {
  const [visits, items] = [
    useRecords("visit", day?.record_id ?? ""),
    useRecords("item", day?.record_id ?? ""),
  ];
  const isChecked = Boolean(day && listed(day, "preflights/").length);
  return Boolean(items?.length || (isChecked && visits?.length));
}

function Chosen({ day }: { day: DayRecord }) {
  const { currency } = dayFacts(day);
  const tables = tablesApart(day).filter(({ gone }) => !gone);
  const isBegun = useBegun(day); // before that it is the next step
  return (
    <section class="day-chosen">
      <h2>{dayWordsApart(day, useRecords("day") ?? [], momentWords)}</h2>
      <DayClosed day={day} />
      <p class="hint">
        Tables: {tables.map((table) => table.words).join(", ") || "none"}. Currency: {currency}. This device
        works on this day.
      </p>
      <Contested day={day} />
      <TablesOfOneName day={day} />
      <DayGlance day={day} />
      <Below>
        <div class="set-up">
          <section>
            {isBegun && (
              <p class="keys">
                <a class="button" href="#/preflight">
                  {BEFORE}
                </a>
              </p>
            )}
            <CorrectDay day={day} />
            <Tickets day={day} />
          </section>
          <People day={day} />
        </div>
      </Below>
    </section>
  );
}

function Other({ day }: { day: DayRecord }) {
  return (
    <section>
      <h2>{dayWordsApart(day, useRecords("day") ?? [], momentWords)}</h2>
      <p>
        <button type="button" class="quiet" onClick={() => attempt(() => workOnDay(day.record_id))}>
          Work on this day
        </button>
      </p>
      <Contested day={day} />
      <TablesOfOneName day={day} />
      <CorrectDay day={day} />
      <People day={day} />
    </section>
  );
}
