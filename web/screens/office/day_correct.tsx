/** What a day was set up with, to be corrected: house, place, date, and its tables. */
import { useState } from "preact/hooks";
import { dateWords, dayFacts, tablesApart, tablesOfOneName } from "../../job/day_facts.ts";
import { isFarFrom } from "../../job/far_date.ts";
import { newId } from "../../job/ids.ts";
import type { CorrectDay as Correction } from "../../job/operations.ts";
import { freeTableName } from "../../job/others_here.ts";
import { seatsOf } from "../../job/seats.ts";
import type { DayRecord } from "../../job/types.ts";
import { atStage, fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useRecords } from "../../parts/use.ts";
import { AllowsCorrection } from "./day_allowed.tsx";
import { sayTable, Table } from "./day_table.tsx";

/** What is typed here: who allowed it after the closing is asked before, and a day is let go by a key of its own. */
type Fact = Exclude<Correction["field"], "allowed_by" | "let_go">;

export function CorrectDay({ day }: { day: DayRecord }) {
  const [open, setOpen] = useState(false);
  const [isAllowed, setIsAllowed] = useState(false);
  const isClosed = Boolean(fieldValue(day, "closed"));
  const close = () => {
    setOpen(false);
    setIsAllowed(false); // the next correction is asked about anew
  };
  if (!open)
    return (
      <p>
        <button type="button" class="quiet" onClick={() => setOpen(true)}>
          Correct house, date or tables
        </button>
      </p>
    );
  if (isClosed && !isAllowed)
    return <AllowsCorrection day={day} allow={() => setIsAllowed(true)} leave={close} />;
  return (
    <section>
      <Facts day={day} />
      <Tables day={day} />
      <button type="button" onClick={close}>
        Done
      </button>
    </section>
  );
}

function Facts({ day }: { day: DayRecord }) {
  const { house, place, held_on } = dayFacts(day);
  const [far, setFar] = useState("");
  const [times, setTimes] = useState(0); // the field begins anew once somebody leaves the date as it was
  const [emptied, setEmptied] = useState<readonly Fact[]>([]);
  const set = (field: Fact) => async (typed: string) => {
    const value = typed.trim();
    setEmptied((before) => [...before.filter((other) => other !== field), ...(value ? [] : [field])]);
    // What is half typed, or emptied, is no house and no date: it stands when there is one.
    if (value && value !== dayFacts(day)[field])
      await keep("correct_day", { day_id: day.record_id, field, value });
  };
  return (
    <>
      <Typed of={day.record_id} label="House" value={house} save={set("house")} />
      <Typed of={day.record_id} label="Place" value={place} save={set("place")} />
      <Typed
        key={times}
        of={day.record_id}
        label="Date"
        type="date"
        value={held_on}
        save={async (typed: string) => {
          const isFar = Boolean(typed) && isFarFrom(typed, held_on);
          setFar(isFar ? typed : "");
          if (!isFar) await set("held_on")(typed);
        }}
      />
      {emptied.length > 0 && (
        <p class="bar wrong" role="status">
          A day has {emptied.map((field) => WHAT[field]).join(" and ")}: as long as nothing else is typed,{" "}
          {emptied.map((field) => wordsOf(field, dayFacts(day)[field])).join(" and ")} stays.
        </p>
      )}
      {far && (
        <div class="bar" role="status">
          <p>
            The day is on record as {dateWords(held_on)}. {dateWords(far)} is years from that, and every
            device would show it.
          </p>
          <button
            type="button"
            onClick={() =>
              attempt(async () => {
                await set("held_on")(far);
                setFar("");
              })
            }
          >
            It is {dateWords(far)}
          </button>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              setFar("");
              setTimes(times + 1);
            }}
          >
            Leave {dateWords(held_on)}
          </button>
        </div>
      )}
    </>
  );
}

const WHAT: Readonly<Record<Fact, string>> = {
  house: "a house",
  place: "a place",
  held_on: "a date",
};

function wordsOf(field: Fact, value: string) {
  return field === "held_on" ? dateWords(value) : value;
}

function Tables({ day }: { day: DayRecord }) {
  const day_id = day.record_id;
  const tables = tablesApart(day);
  const seats = seatsOf(day, atStage(useRecords("visit", day_id) ?? [], "at-table"));
  const add = () => attempt(() => sayTable(day_id, newId(), freeTableName(day), false));
  return (
    <>
      <h3>Tables</h3>
      {tables.map((table) => (
        <Table
          key={table.table_id}
          day_id={day_id}
          {...table}
          here={seats.find(({ table_id }) => table_id === table.table_id)?.visits ?? []}
        />
      ))}
      <button type="button" onClick={add}>
        One table more
      </button>
    </>
  );
}

/** Tables that came to one name, mostly from two devices off the network: nobody can tell to which one is called. */
export function TablesOfOneName({ day }: { day: DayRecord }) {
  return tablesOfOneName(day).map((tables) => (
    <p key={tables[0]?.table_id} class="bar" role="status">
      {countWords(tables.length, "table")} are called <strong>{tables[0]?.name}</strong>
      {tables.some(({ gone }) => gone) ? ", with what was taken away" : ""}. Where a table is chosen they have
      letters: give each a name of its own under “Correct house, date or tables”.
    </p>
  ));
}
