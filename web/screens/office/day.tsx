/** The manager's screen: the valuation days on this device, and setting up another. */

import { useState } from "preact/hooks";
import { newId } from "../../job/ids.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { rememberDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDevice, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";

const WORK: [string, string][] = [
  ["valuer", "Valuer"],
  ["clerk", "Clerk"],
  ["door", "Door"],
  ["porter", "Porter"],
  ["cataloguer", "Cataloguer"],
  ["manager", "Manager"],
];

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
      {days.length ? null : <p class="lead">No valuation day is set up yet.</p>}
      {days.map((day) => (
        <OneDay key={day.record_id} day={day} chosen={device.day_id === day.record_id} />
      ))}
    </Frame>
  );
}

function OneDay({ day, chosen }: { day: DayRecord; chosen: boolean }) {
  const {
    form: { name, work },
    set,
    drop,
  } = useHeld(`person ${day.record_id}`, { name: "", work: "valuer" });
  const people = listed(day, "people/").map(({ value }) => value);
  const add = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      await keep("add_person", {
        day_id: day.record_id,
        person: { person_id: newId(), name: name.trim(), roles: [work] },
      });
      sayDone(`${name.trim()} is added.`);
      drop();
    });
  };
  return (
    <section>
      <h2>
        {day.held_on}: {day.house}, {day.place}
      </h2>
      <p>
        Tables: {day.tables.map((table) => table.name).join(", ") || "none"}. Currency: {day.currency}.
        {chosen ? (
          " This device works on this day."
        ) : (
          <button type="button" class="quiet" onClick={() => rememberDevice({ day_id: day.record_id })}>
            Work on this day
          </button>
        )}
      </p>
      {chosen && (
        <p>
          <a class="button" href="#/preflight">
            Before the doors open
          </a>
        </p>
      )}
      <h3>
        People <span class="count">{people.length}</span>
      </h3>
      <p>
        {people.map((person) => `${person.name} (${person.roles.join(", ")})`).join("; ") || "Nobody yet."}
      </p>
      <form class="inline" onSubmit={add}>
        <div class="field">
          <label for={`name-${day.record_id}`}>Add a person</label>
          <input
            id={`name-${day.record_id}`}
            value={name}
            maxLength={120}
            autocomplete="off"
            onInput={(event) => set("name")(event.currentTarget.value)}
          />
        </div>
        <div class="field">
          <label for={`work-${day.record_id}`}>Work</label>
          <select
            id={`work-${day.record_id}`}
            value={work}
            onChange={(event) => set("work")(event.currentTarget.value)}
          >
            {WORK.map(([key, words]) => (
              <option key={key} value={key}>
                {words}
              </option>
            ))}
          </select>
        </div>
        <button type="submit" disabled={!name.trim()}>
          Add
        </button>
      </form>
    </section>
  );
}

function NewDay({ close }: { close: () => void }) {
  const {
    form: draft,
    set,
    drop,
  } = useHeld("new day", {
    house: "",
    place: "",
    held_on: new Date().toISOString().slice(0, 10),
    currency: "GBP",
    tables: "3",
  });
  const field = (name: keyof typeof draft, label: string, type = "text") => (
    <div class="field">
      <label for={`day-${name}`}>{label}</label>
      <input
        id={`day-${name}`}
        type={type}
        required
        value={draft[name]}
        onInput={(event) => set(name)(event.currentTarget.value)}
      />
    </div>
  );
  const save = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      const day_id = newId();
      const tables = Array.from({ length: Math.min(30, Number(draft.tables) || 1) }, (_, place) => ({
        table_id: newId(),
        name: `Table ${place + 1}`,
      }));
      await keep("open_day", {
        day_id,
        house: draft.house,
        place: draft.place,
        held_on: draft.held_on,
        currency: draft.currency.toUpperCase(),
        tables,
        people: [],
      });
      await rememberDevice({ day_id });
      drop();
      close();
      sayDone("The day is set up. Add the people who work on it.");
    });
  };
  return (
    <Frame
      title="Set up a day"
      back="#/day"
      action={
        <>
          <button type="button" onClick={close}>
            Not now
          </button>
          <button type="submit" form="new-day" class="main">
            Set it up
          </button>
        </>
      }
    >
      <form id="new-day" onSubmit={save}>
        {field("house", "House")}
        {field("place", "Place")}
        <div class="pair">
          {field("held_on", "Date", "date")}
          {field("currency", "Currency (three letters)")}
        </div>
        {field("tables", "How many tables", "number")}
      </form>
    </Frame>
  );
}
