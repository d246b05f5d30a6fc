/** What a day was set up with, to be corrected: house, place, date, and its tables. */
import { useState } from "preact/hooks";
import { dayFacts, tablesOf } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import type { CorrectDay as Correction } from "../../job/operations.ts";
import type { DayRecord } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";

export function CorrectDay({ day }: { day: DayRecord }) {
  const [open, setOpen] = useState(false);
  if (!open)
    return (
      <p>
        <button type="button" class="quiet" onClick={() => setOpen(true)}>
          Correct house, date or tables
        </button>
      </p>
    );
  return (
    <section>
      <Facts day={day} />
      <Tables day={day} />
      <button type="button" onClick={() => setOpen(false)}>
        That is right
      </button>
    </section>
  );
}

function Facts({ day }: { day: DayRecord }) {
  const { house, place, held_on } = dayFacts(day);
  const set = (field: Correction["field"]) => async (typed: string) => {
    const value = typed.trim();
    // What is half typed, or emptied, is no house and no date: it stands when there is one.
    if (value && value !== dayFacts(day)[field])
      await keep("correct_day", { day_id: day.record_id, field, value });
  };
  return (
    <>
      <Typed of={day.record_id} label="House" value={house} save={set("house")} />
      <Typed of={day.record_id} label="Place" value={place} save={set("place")} />
      <Typed of={day.record_id} label="Date" type="date" value={held_on} save={set("held_on")} />
    </>
  );
}

function Tables({ day }: { day: DayRecord }) {
  const day_id = day.record_id;
  const tables = tablesOf(day);
  const say = (table_id: string, name: string, gone: boolean) =>
    keep("set_table", { day_id, table_id, name, gone });
  const add = () => attempt(() => say(newId(), `Table ${tables.length + 1}`, false));
  return (
    <>
      <h3>Tables</h3>
      {tables.map(({ table_id, name, gone }) => (
        <div class="pair" key={table_id}>
          <Typed
            of={table_id}
            label={gone ? `${name}, taken away` : `Name of ${name}`}
            value={name}
            save={async (typed: string) => {
              if (typed.trim()) await say(table_id, typed.trim(), gone);
            }}
          />
          <button type="button" class="quiet" onClick={() => attempt(() => say(table_id, name, !gone))}>
            {gone ? "Put it back" : "Take it away"}
          </button>
        </div>
      ))}
      <button type="button" onClick={add}>
        One table more
      </button>
    </>
  );
}
