/** Who holds this device, and at which table. */

import { useState } from "preact/hooks";
import { closingCode } from "../../job/closing_code.ts";
import { peopleHere, tablesApart } from "../../job/day_facts.ts";
import type { DayRecord } from "../../job/types.ts";
import { rememberDevice, type ThisDevice } from "../../local/device.ts";
import { Select } from "../../parts/choices.tsx";
import { ChooseWho } from "../../parts/who_is_here.tsx";
import { syncNow } from "../../sync/sync.ts";

/** Who holds this device, and at which table: asked once, then one line. */
export function AtThisDevice({ day, device }: { day: DayRecord; device: ThisDevice }) {
  const people = peopleHere(day);
  const tables = tablesApart(day).filter(({ gone }) => !gone);
  const person = people.find(({ person_id }) => person_id === device.person_id);
  const table = tables.find((table) => table.table_id === device.table_id);
  const atTable = device.role === "table";
  const [open, setOpen] = useState(!person || (atTable && !table));
  if (!open && person) {
    return (
      <p class="at-device with-key">
        <strong>{person.name}</strong>
        <button type="button" class="quiet" onClick={() => setOpen(true)}>
          Change
        </button>
      </p>
    );
  }
  return (
    <section>
      <div class="pair">
        <ChooseWho day={day} device={device} />
        {atTable && (
          <Select
            label="Which table?"
            value={device.table_id}
            empty="No table"
            options={tables.map((table) => [table.table_id, table.words])}
            choose={async (table_id: string) => {
              await rememberDevice({ table_id });
              syncNow(); // the owners at this table may be read from now on
            }}
          />
        )}
      </div>
      {person ? (
        <>
          <p class="hint">
            {person.name}'s code on this device, as second person when the day is closed on another:{" "}
            <strong class="code">{closingCode(day.record_id, person.person_id, device.device_id)}</strong>
          </p>
          <button type="button" onClick={() => setOpen(false)}>
            Go on as {person.name}
          </button>
        </>
      ) : (
        <p class="bar">Choose your name first: every record says who made it.</p>
      )}
    </section>
  );
}
