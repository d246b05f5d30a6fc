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
import { NewDay } from "./day_new.tsx";

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

type DayOf = { day: DayRecord; chosen: boolean };

function OneDay({ day, chosen }: DayOf) {
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
      <People day={day} />
      <AddPerson day_id={day.record_id} />
    </section>
  );
}

function People({ day }: { day: DayRecord }) {
  const people = listed(day, "people/").map(({ value }) => value);
  return (
    <>
      <h3>
        People <span class="count">{people.length}</span>
      </h3>
      <p>
        {people.map((person) => `${person.name} (${person.roles.join(", ")})`).join("; ") || "Nobody yet."}
      </p>
    </>
  );
}

function AddPerson({ day_id }: { day_id: string }) {
  const { form, set, drop } = useHeld(`person ${day_id}`, { name: "", work: "valuer" });
  const { name, work } = form;
  const add = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      await keep("add_person", {
        day_id,
        person: { person_id: newId(), name: name.trim(), roles: [work] },
      });
      sayDone(`${name.trim()} is added.`);
      drop();
    });
  };
  return (
    <form class="inline" onSubmit={add}>
      <div class="field">
        <label for={`name-${day_id}`}>Add a person</label>
        <input
          id={`name-${day_id}`}
          value={name}
          maxLength={120}
          autocomplete="off"
          onInput={(event) => set("name")(event.currentTarget.value)}
        />
      </div>
      <div class="field">
        <label for={`work-${day_id}`}>Work</label>
        <select
          id={`work-${day_id}`}
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
  );
}
