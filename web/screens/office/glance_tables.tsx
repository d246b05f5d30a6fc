/** What each table is at: its owner, for how long, the thing in hand with its edge, and how much is left. */

import { minutesSince } from "../../job/day_sums.ts";
import { photosOf } from "../../job/progress.ts";
import { seatsOf } from "../../job/seats.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue, ownerWords } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { itemsOfVisit } from "../../local/memory.ts";
import { EdgeOf } from "../../parts/edge.tsx";
import { gapsOf } from "../../parts/gaps.ts";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";

/** An owner is seldom so long at a table: the next ones wait. Common practice. */
const LONG_MINUTES = 30;

type TablesOf = { day: DayRecord; visits: VisitRecord[]; now: number };

export function TablesNow({ day, visits, now }: TablesOf) {
  return (
    <ul class="tables-now">
      {seatsOf(day, visits).map(({ table_id, name, gone, visits: here }) => (
        <li key={table_id} class="card">
          <strong>{gone ? `${name}, taken away` : name}</strong>
          {here.map((visit) => (
            <AtTable key={visit.record_id} visit={visit} now={now} />
          ))}
          {!here.length && <p class="none">Nobody is at it.</p>}
        </li>
      ))}
    </ul>
  );
}

function AtTable({ visit, now }: { visit: VisitRecord; now: number }) {
  const items = (itemsOfVisit(visit.record_id) ?? []).filter((item) => !isBackWithOwner(item));
  const newest = items.at(-1);
  const left = items.filter((item) => gapsOf(item).length).length;
  const minutes = minutesSince(visit.fields.stage?.made_at ?? visit.opened_at, now);
  return (
    <a class="at-table-now" href={`#/visit/${visit.record_id}`}>
      <span class="who">
        <strong>{fieldValue(visit, "ticket")}</strong> {ownerWords(visit)}
        {minutes !== null && (
          <small>
            <Sign of="clock" /> {minutes} min{minutes >= LONG_MINUTES && ", long"}
          </small>
        )}
      </span>
      {newest && <Thumb sha256={photosOf(newest)[0]?.value.thumb_sha256} words="" inList={true} />}
      {newest && <span class="what">{fieldValue(newest, "short_description") || "Not named yet"}</span>}
      <span class="left">
        <strong class="figure">{left}</strong> {left === 1 ? "thing" : "things"} to finish
      </span>
      {newest && <EdgeOf item={newest} />}
    </a>
  );
}
