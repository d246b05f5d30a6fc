/** Who is at this device: every record says who made it, so it is asked for wherever somebody could make one. */

import { namesToChoose, peopleHere, personLeft, tablesApart } from "../job/day_facts.ts";
import type { DayRecord } from "../job/types.ts";
import { rememberDevice, type ThisDevice } from "../local/device.ts";
import { Select } from "./choices.tsx";
import { useDay } from "./use.ts";

export function ChooseWho({ day, device }: { day: DayRecord; device: ThisDevice }) {
  return (
    <Select
      label="Who is at this device?"
      value={device.person_id}
      empty="Choose your name"
      options={namesToChoose(day)}
      choose={(person_id: string) =>
        rememberDevice({ person_id, table_id: device.table_id || ownTable(day, device) })
      }
    />
  );
}

/** A device that is called as a table stands at it, until somebody there says another. */
function ownTable(day: DayRecord, { role, name }: ThisDevice) {
  const own = tablesApart(day).find(({ words, gone }) => role === "table" && words === name && !gone);
  return own?.table_id ?? "";
}

/**
 * Nothing once it is known, unless they have left; while nobody is on the day's list, or at a desk, which asks beside
 * its queue.
 */
export function WhoIsHere({ device }: { device: ThisDevice }) {
  const day = useDay();
  if (device.role === "desk" || !day || !peopleHere(day).length) return null;
  const left = personLeft([day], device.person_id)?.name;
  if (device.person_id && !left) return null;
  return (
    <div class="bar on-screen">
      {left && <p>{left} has left.</p>}
      <ChooseWho day={day} device={device} />
    </div>
  );
}
