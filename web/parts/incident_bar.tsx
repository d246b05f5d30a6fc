/** What stands on the day and may hurt somebody, told on every screen that people begin with. */

import { isStopped } from "../job/cautions.ts";
import { thingName } from "../job/custody.ts";
import { incidentWords, standingIncidents } from "../job/incidents.ts";
import { isLeftAlone } from "../job/stopped.ts";
import { firstUpper } from "../job/words.ts";
import { derived } from "../local/derived.ts";
import { records } from "../local/memory.ts";
import { useDay, useDevice, usePlanBook } from "./use.ts";

const leftAlone = derived((day_id: string) =>
  (records("item", day_id) ?? []).filter((item) => isStopped(item) && isLeftAlone(item)),
);

/**
 * One line for each incident that nobody has settled, and for each item that nobody handles; nothing if there is none.
 */
export function StandingIncidents() {
  const day = useDay();
  const isDesk = useDevice()?.role === "desk"; // it has no copy of the day; its list tells of all that are stopped
  const rows = usePlanBook()?.cautions?.cautions ?? [];
  const stopped = day && !isDesk ? leftAlone(day.record_id) : [];
  const standing = day ? standingIncidents(day) : [];
  if (!standing.length && !stopped.length) return null;
  return (
    <div class="bar caution-bar red" role="alert">
      {standing.map((incident) => (
        <p key={incident.id}>
          <strong>
            {incidentWords(incident, rows.find(({ hazard }) => hazard === incident.value.hazard)?.name)}
          </strong>
        </p>
      ))}
      {standing.length > 0 && (
        <p>
          <a href="#/stop">Keep away. Ticket, place, how it ended</a>
        </p>
      )}
      {stopped.map((item) => (
        <p key={item.record_id}>
          <strong>{firstUpper(thingName(item))} is stopped.</strong>{" "}
          <a href={`#/item/${item.record_id}/stop`}>Keep away. Who was called, what was decided</a>
        </p>
      ))}
    </div>
  );
}
