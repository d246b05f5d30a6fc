/** What stands on the day and may hurt somebody, told on every screen that people begin with. */

import { isStopped } from "../job/cautions.ts";
import { keepAwayFrom, NO_NAME, placesOf } from "../job/custody.ts";
import { tablesOf } from "../job/day_facts.ts";
import { incidentWords, standingIncidents } from "../job/incidents.ts";
import { oneThing } from "../job/one_thing.ts";
import { tagsOf } from "../job/progress.ts";
import { isLeftAlone } from "../job/stopped.ts";
import type { DayRecord, ItemRecord } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { derived } from "../local/derived.ts";
import { record, records } from "../local/memory.ts";
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
            {incidentWords(incident, rows.find(({ hazard }) => hazard === incident.value.hazard)?.name)}.
          </strong>{" "}
          {incident === standing.at(-1) && <a href="#/stop">Keep away. How it ended</a>}
        </p>
      ))}
      {day &&
        stopped.map((item) => (
          <KeepAway
            key={item.record_id}
            name={fieldValue(item, "short_description")}
            from={whereStopped(item, day)}
            to={`#/item/${item.record_id}/stop`}
          />
        ))}
    </div>
  );
}

type KeepAwayOf = {
  name: string | undefined;
  /** Where it is, and whose. */
  from: string;
  to: string;
};

/** Where nobody goes comes first: whoever reads it in passing has read that. What is cut of a long line is the name. */
export function KeepAway({ name, from, to }: KeepAwayOf) {
  return (
    <p>
      <strong>
        {from} is stopped: <span class="name">{name || NO_NAME}.</span>
      </strong>{" "}
      <a href={to}>Keep away. Read why</a>
    </p>
  );
}

/** As far as this device knows: a door has no containers, and no visit of another day. */
function whereStopped(item: ItemRecord, day: DayRecord) {
  const visit = record(item.visit_id);
  const table = tablesOf(day).find(({ table_id }) => table_id === fieldValue(visit, "table_id"));
  const containers = (records("container", day.record_id) ?? []).map((one) => [one.record_id, one] as const);
  return keepAwayFrom(
    tagsOf(oneThing(item)),
    fieldValue(visit, "ticket") ?? "",
    table?.name ?? "",
    placesOf(item, new Map(containers)),
  );
}
